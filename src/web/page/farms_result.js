// What a survey came to, in the engine's words: its shares, and the farms whose drenches slip or are lost.
import {el} from './parts.js';

const lead = (words) => words.charAt(0).toUpperCase() + words.slice(1);

/** All groups, and the first of the breakdowns. */
const tables_here = 2;

function scrolling(label, table) {
  return el('div', {class: 'wide', tabindex: '0', role: 'region', 'aria-label': label}, table);
}

const heads = (names) => el('thead', {}, el('tr', {}, names.map((name, index) =>
  el('th', {scope: 'col', class: index > 0 ? 'number' : null}, lead(name)))));

function sharesTable({name, columns, rows}) {
  return scrolling(lead(name), el('table', {}, el('caption', {}, lead(name)), heads(['', ...columns]),
    el('tbody', {}, rows.map((row) => el('tr', {}, el('th', {scope: 'row'}, row.name),
      row.cells.map((cell) => el('td', {class: 'number'}, cell)))))));
}

export function sharesBox({tables, shares_note: note}) {
  return el('div', {}, el('h3', {}, 'How many groups are resistant'), el('p', {class: 'hint'}, note),
    tables.slice(0, tables_here).map(sharesTable),
    tables.length > tables_here ? el('p', {class: 'hint'}, 'The others stand in the report below.') : null);
}

const course_heads = ['tested', 'fall, %', 'limits', 'standing', 'chance of a drop since the first', 'since the last'];

function courseBox({name, word, tests}) {
  const title = `${name}: ${word}`;
  const row = (test) => el('tr', {}, el('th', {scope: 'row'}, test.tested),
    ...[test.fall, test.limits, test.standing].map((cell) => el('td', {class: 'number'}, cell)),
    ...(test.left_out ? [el('td', {colspan: '2'}, `${test.since_first}: ${test.left_out}`)]
      : [test.since_first, test.since_last].map((cell) => el('td', {class: 'number'}, cell))));
  return el('li', {class: 'farms-course'}, el('strong', {}, title),
    scrolling(title, el('table', {}, heads(course_heads), el('tbody', {}, tests.map(row)))));
}

/** Nothing where no farm was tested again. */
export function yearsBox(courses) {
  if (courses === null)
    return null;
  const {counted, from_the_first: lostAlready, told, more, note, next} = courses;
  return el('div', {},
    el('h3', {}, 'The years of farms'),
    el('p', {}, counted),
    lostAlready > 0 ? el('p', {}, `${lostAlready} had failed in the farm's first test already; they stand among the ` +
      'resistant groups.') : null,
    told.length === 0 ? el('p', {}, 'No other drench is said to slip or to be lost. That is no promise: one that ' +
      'holds, or of which too little can be told, may slip unseen.')
      : el('ul', {class: 'farms-courses'}, told.map(courseBox)),
    more > 0 ? el('p', {class: 'hint'}, `and ${more} more: the years as CSV have all.`) : null,
    el('p', {class: 'hint'}, note), told.length > 0 ? el('p', {}, next) : null);
}

export function bewareBox(lines) {
  return el('div', {class: 'told'}, el('strong', {}, 'Before you read the numbers'),
    el('ul', {}, lines.map((line) => el('li', {}, line))));
}
