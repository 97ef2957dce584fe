// What forms offer, and the invented trial, as the page was built with them.

const textOf = (id) => document.getElementById(id).textContent;

/** Hosts, classes, criteria and lessons: the reply to `choices` (docs/browser.md). */
export const choices = JSON.parse(textOf('choices'));

/** The bundled trial, CSV. */
export const example = () => ({name: 'brackenhill.csv', text: textOf('example')});
