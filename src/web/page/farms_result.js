// What a survey came to: its shares, and the farms whose drenches slip or are lost.
import {el} from './parts.js';

const most_courses = 40;

const whole = (number) => (number === null ? '-' : String(Math.round(number)));
const one = (number) => (number === null ? '-' : number.toFixed(1));
/** No chance is certain. */
const chance = (percent) => (percent > 99 ? 'over 99' : percent < 1 ? 'under 1' : whole(percent));

const numberCell = (text) => el('td', {class: 'number'}, text);

function scrolling(label, table) {
  return el('div', {class: 'wide', tabindex: '0', role: 'region', 'aria-label': label}, table);
}

const columns = [
  ['tested', 'Tested', ({tested}) => tested],
  ['resistant', 'Resistant', ({resistant}) => resistant],
  ['low resistant', 'Low resistant', ({low_resistant}) => low_resistant],
  ['open', 'Open', ({inconclusive, suspected}) => inconclusive + suspected],
  ['susceptible', 'Susceptible', ({susceptible}) => susceptible],
  ['none', 'No class', ({not_judged}) => not_judged],
  ['share', 'Resistant, of 100 (limits)', (each) => (each.judged === 0 ? '-'
    : `${whole(each.resistant_percent)} (${whole(each.resistant_lower_percent)} to ${whole(each.resistant_upper_percent)})`)],
  ['most', 'At most', (each) => whole(each.at_most_percent)],
];

const valuesOf = (by, stratum) => by.map((field) => stratum[field]);

function sharesTable({by, strata}) {
  const name = by.length === 0 ? 'All groups' : `By ${by.join(', ')}`;
  const label = (stratum) => (by.length === 0 ? 'All groups'
    : valuesOf(by, stratum).map((value) => value ?? 'not given').join(', '));
  return scrolling(name, el('table', {}, el('caption', {}, name),
    el('thead', {}, el('tr', {}, el('th', {scope: 'col'}, by.join(', ') || 'Groups'),
      columns.map(([, head]) => el('th', {scope: 'col', class: 'number'}, head)))),
    el('tbody', {}, strata.map((stratum) => el('tr', {}, el('th', {scope: 'row'}, label(stratum)),
      columns.map(([, , value]) => numberCell(String(value(stratum)))))))));
}

/** Whether any group gives any of the fields. */
const saysSomething = ({by, strata}) => strata.some((stratum) => valuesOf(by, stratum).some((value) => value !== null));

export function sharesBox({all, breakdowns}) {
  return el('div', {},
    el('h3', {}, 'How many groups are resistant'),
    el('p', {class: 'hint'}, 'Open: the counts, or a flaw of the trial, leave it undecided, so that the group may be ' +
      'resistant. At most: the share of resistant groups, of 100 with a class, if every open one were.'),
    sharesTable({by: [], strata: [all]}),
    breakdowns.filter(saysSomething).map(sharesTable));
}

const words_in_order = ['lost', 'slipping', 'too little to tell', 'holding'];

const nameOf = ({farm, drench, host, worm}) => [farm, drench, host, worm].filter(Boolean).join(', ');

function courseBox(course) {
  const title = `${nameOf(course)}: ${course.word}`;
  const sinceCells = ({left_out, since_first, since_last}) => (left_out === null
    ? [since_first, since_last].map((drop) => numberCell(drop === null ? '-' : chance(drop.any_drop_percent)))
    : [el('td', {colspan: '2'}, `cannot tell: ${left_out}`)]);
  return el('li', {class: 'farms-course'}, el('strong', {}, title),
    scrolling(title, el('table', {},
      el('thead', {}, el('tr', {}, ['Tested', 'Fall, %', 'Limits', 'Standing', 'Chance of a drop since the first, of 100',
        'Since the last'].map((head) => el('th', {scope: 'col'}, head)))),
      el('tbody', {}, course.tests.map((test) => el('tr', {},
        el('th', {scope: 'row'}, test.day ?? String(test.year)), numberCell(one(test.reduction_percent)),
        el('td', {}, `${one(test.lower_percent)} to ${one(test.upper_percent)}`), el('td', {}, test.standing),
        sinceCells(test)))))));
}

/** Nothing where no farm was tested again. */
export function coursesBox(courses) {
  if (courses.length === 0)
    return null;
  const counted = words_in_order.map((word) =>
    `${word} ${courses.filter((course) => course.word === word).length}`).join(', ');
  const worrying = words_in_order.slice(0, 2)
    .flatMap((word) => courses.filter((course) => course.word === word));
  const left = worrying.length - most_courses;
  return el('div', {},
    el('h3', {}, 'The years of farms'),
    el('p', {}, `Drenches of a farm that were tested again in another year or month: ${courses.length} (${counted}).`),
    worrying.length === 0
      ? el('p', {}, 'None of them is said to slip or to be lost. That is no promise: "too little to tell" and ' +
        '"holding" may slip unseen.')
      : el('ul', {class: 'judge-given'}, worrying.slice(0, most_courses).map(courseBox)),
    left > 0 ? el('p', {class: 'hint'}, `and ${left} more; the years as CSV have all.`) : null);
}

/** How many groups lost the class of their counts, and by what; nothing if none did. */
export function barredBox(barred) {
  const told = Object.entries(barred).filter(([, groups]) => groups > 0);
  if (told.length === 0)
    return null;
  const sum = told.reduce((all, [, groups]) => all + groups, 0);
  return el('div', {class: 'problem'},
    el('strong', {}, `${sum} ${sum === 1 ? 'group is' : 'groups are'} without the class of the counts, ` +
      'by a flaw of the trial'),
    el('ul', {}, told.map(([flaw, groups]) => el('li', {}, `${flaw.replaceAll('_', ' ').replaceAll('-', ' ')}: ${groups}`))));
}
