// What a table was taken for: its groups, and the lines in which the engine tells how it was read.
import {counted, el} from './parts.js';

const most_groups = 40;

function groupsTable(groups) {
  const many = new Set(groups.map((group) => group.trial)).size > 1;
  const heads = [...(many ? ['Trial'] : []), 'Group', 'Treated?', 'Drench', 'Class', 'Animals of', 'Number'];
  const cells = (group) => [...(many ? [group.trial] : []), group.name, group.treated ? 'treated' : 'untreated',
    group.drench, group.classes.join('+'), group.host, String(group.animals)];
  return el('div', {class: 'wide', tabindex: '0', role: 'region', 'aria-label': 'Groups of the table'}, el('table', {},
    el('thead', {}, el('tr', {}, heads.map((head) => el('th', {scope: 'col'}, head)))),
    el('tbody', {}, groups.slice(0, most_groups).map((group) => el('tr', {}, cells(group).map((cell, index) =>
      el('td', {class: index === heads.length - 1 ? 'number' : null}, cell)))))),
  groups.length > most_groups ? el('p', {class: 'hint'}, `and ${groups.length - most_groups} more groups`) : null);
}

const lines = (list) => el('ul', {}, list.map((line) => el('li', {}, line)));

export function sizeWords(groups) {
  const animals = groups.reduce((sum, group) => sum + group.animals, 0);
  const trials = new Set(groups.map((group) => group.trial)).size;
  return `${animals} animals in ${counted(groups.length, 'group')}` +
    (trials > 1 ? ` of ${trials} trials` : '');
}

/** `isOurs`: the table was in the engine's own form, so there was nothing to understand. */
export function understoodBox({groups, understood, told, noticed}) {
  const asItStands = understood.length === 0;
  const more = understood.filter((line) => !told.includes(line));
  return el('details', {open: !asItStands || noticed.length > 0},
    el('summary', {}, `How it was read: ${sizeWords(groups)}`),
    asItStands ? el('p', {}, 'The table has the names of a counts table and was read as it stands.')
      : el('p', {}, 'Compare this with your sheet. What is wrong can be mended in the counts below.'),
    noticed.length ? el('div', {}, el('h3', {}, 'Look at this'), lines(noticed)) : null,
    groupsTable(groups),
    told.length ? lines(told) : null,
    more.length ? el('details', {}, el('summary', {}, `${more.length} more, that went as expected`), lines(more)) : null);
}
