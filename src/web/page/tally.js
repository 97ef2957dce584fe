// The room "Count eggs". What it shows hangs on the address:
//   #count             the counts that are kept
//   #count/new         the form for a new one
//   #count/ID          one count: progress, table, saving
//   #count/ID/before   at the microscope (or after)
//   #count/ID/set-up   what may still be changed
import {recall} from './kept.js';
import {announce, button, el} from './parts.js';
import {benchCalculator} from './bench.js';
import {occasions} from './tally_count.js';
import {countingScreen} from './tally_counting.js';
import {changeForm, overview, shortProgress, whenWords} from './tally_overview.js';
import {isSetUpBegun, setUp} from './tally_setup.js';
import {countOf, forgetCount, keepCount, keptCounts, onOtherTab} from './tally_store.js';

let room = null;
let leave = () => {};
let shownAddress = null;

/** The count that was deleted last, to be brought back. */
let deleted = null;

function remove(count) {
  if (!confirm(`Delete the count "${count.name}" from this browser? Files you saved stay.`))
    return;
  forgetCount(count.id);
  deleted = count;
  if (location.hash === '#count')
    show();
  else
    location.hash = '#count';
  announce(`${count.name} is deleted. It can be brought back here until you leave this page.`);
}

function bringBack() {
  const {name} = deleted;
  keepCount(deleted);
  deleted = null;
  show();
  announce(`${name} is back.`);
}

function countCard(count) {
  return el('li', {class: 'count-card'},
    el('h3', {}, el('a', {href: `#count/${count.id}`}, count.name)),
    el('p', {}, `${count.animals.length} animals: ${shortProgress(count)}.`),
    el('p', {class: 'hint'}, `Begun ${whenWords(count.made)}, last changed ${whenWords(count.changed)}.`),
    el('div', {class: 'row'}, el('a', {class: 'button', href: `#count/${count.id}`}, 'Open'),
      button('Delete', () => remove(count), {'aria-label': `Delete ${count.name}`})));
}

function listOfCounts() {
  const counts = keptCounts();
  const factorFound = el('p', {'aria-live': 'polite'});
  return el('div', {},
    el('h2', {tabindex: '-1'}, 'Count eggs'),
    el('p', {}, 'Tap a button, or press a key, for each egg you see. Every tap is kept in this ' +
      'browser at once, and the counts become the table that is judged.'),
    deleted ? el('div', {class: 'told row'}, el('span', {}, `Deleted: ${deleted.name}.`),
      button('Bring it back', bringBack)) : null,
    el('div', {class: 'row'}, el('a', {class: 'button main', href: '#count/new'},
      isSetUpBegun() ? 'Go on setting up a count' : 'Set up a count')),
    counts.length > 0 ? el('h3', {}, 'Counts kept in this browser') : null,
    counts.length > 0 ? el('ul', {class: 'count-cards'}, counts.map(countCard)) : null,
    el('details', {}, el('summary', {}, 'Bench calculator: what one egg seen stands for'),
      benchCalculator({onfactor: (factor) => {
        factorFound.textContent = `Factor ${Number(factor.toPrecision(10))}: type it where a count is set ` +
          'up, or work it out there.';
      }}), factorFound));
}

/** A count that is only looked at is not written: its date is that of the last change. */
const savingOf = (count) => () => keepCount(count);

function screenOf(count, what) {
  const save = savingOf(count);
  if (occasions.includes(what) && count.bench[what]) {
    count.occasion = what;
    const screen = countingScreen({count, occasion: what, save});
    return {box: screen.box, start: () => screen.start(), stop: () => screen.stop()};
  }
  if (what === 'set-up')
    return {box: changeForm({count, save})};
  return {box: overview({count, save, redraw, remove: () => remove(count)})};
}

function redraw(focused) {
  show();
  room.querySelector(focused).focus();
}

const missing = () => el('div', {}, el('h2', {tabindex: '-1'}, 'This count is not kept here'),
  el('p', {}, 'It was deleted, or begun in another browser or on another device.'),
  el('p', {}, el('a', {href: '#count'}, 'All counts')));

function begun(count) {
  keepCount(count);
  // Back then leads to the count and not to a form that is done with.
  history.replaceState(null, '', `#count/${count.id}`);
  location.hash = `#count/${count.id}/${count.occasion}`;
}

function screenAt(id, what) {
  if (!id)
    return {box: listOfCounts()};
  if (id === 'new')
    return {box: setUp({onready: begun})};
  const count = countOf(id);
  return count ? screenOf(count, what) : {box: missing()};
}

function show() {
  leave();
  const moved = shownAddress !== null && shownAddress !== location.hash;
  shownAddress = location.hash;
  const [, id, what] = location.hash.slice(1).split('/');
  // The yard sheets hand their counts table over: it is where a new count begins.
  if (!id && recall('count-list') !== null)
    return location.replace('#count/new');
  const {box, start, stop} = screenAt(id, what);
  room.replaceChildren(box);
  const forget = id ? onOtherTab(id, () => {
    show();
    announce('This count was changed in another tab: this is how it stands there.');
  }) : () => {};
  leave = () => { stop?.(); forget(); leave = () => {}; };
  start?.();
  // Who follows a link should be told where they are.
  if (!start && moved) {
    scrollTo({top: 0, behavior: 'instant'});
    box.querySelector('h2')?.focus({preventScroll: true});
  }
}

export function begin(box) {
  room = box;
  addEventListener('hashchange', () => {
    if (!/^#count(\/|$)/.test(location.hash) && location.hash !== '#main')
      leave();
  });
}

export function shown() {
  show();
}
