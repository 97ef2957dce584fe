// What the browser's own printing gives while a page of the engine is shown: that page, on as many
// sheets as it needs. A frame would be cut where it stands, so the page is laid into the document for
// as long as the printing lasts.

const rooms = [];

/**
 * `pageToPrint` gives the document to print, or null while its room is not shown or its form is what a
 * user would print. Each room may have one.
 */
export function printsInstead(pageToPrint) {
  rooms.push(pageToPrint);
}

function shownPage() {
  for (const pageToPrint of rooms) {
    const page = pageToPrint();
    if (page)
      return page;
  }
  return null;
}

let undo = null;

function layIn() {
  const page = shownPage();
  if (!page || undo)
    return;
  const own = [...document.querySelectorAll('head style')];
  const styles = [...page.querySelectorAll('style')].map((style) => document.importNode(style, true));
  const hide = document.createElement('style');
  hide.textContent = 'body > :not([data-printed]) { display: none !important; }';
  const body = [...page.body.children].filter((child) => !child.matches('script, style, meta, base, link'))
    .map((child) => document.importNode(child, true));
  for (const child of body)
    child.dataset.printed = '';
  const title = document.title;
  for (const style of own)
    style.media = 'not all';
  document.head.append(...styles, hide);
  document.body.append(...body);
  // A browser offers the title as the name of a file that it prints to.
  document.title = page.title;
  undo = () => {
    for (const added of [...styles, hide, ...body])
      added.remove();
    for (const style of own)
      style.removeAttribute('media');
    document.title = title;
    undo = null;
  };
}

addEventListener('beforeprint', layIn);
addEventListener('afterprint', () => undo?.());
