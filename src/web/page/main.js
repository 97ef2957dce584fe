// The page: its rooms, one shown at a time by the address behind "#", so that back goes back.
import {canRun, warmUp} from './engine.js';
import {forget, keptNames, onKept} from './kept.js';
import {announce, button, el} from './parts.js';
import {choices} from './choices.js';
import * as judge from './judge.js';
import * as farms from './farms.js';
import * as tally from './tally.js';
import * as plan from './plan.js';
import * as sheets from './sheets.js';
import * as teach from './teach.js';

const rooms = [
  {name: 'judge', label: 'Judge a trial', room: judge},
  {name: 'farms', label: 'Many farms', room: farms},
  {name: 'count', label: 'Count eggs', room: tally},
  {name: 'plan', label: 'Plan a test', room: plan},
  {name: 'sheets', label: 'Yard sheets', room: sheets},
  {name: 'teach', label: 'Teach', room: teach},
];

const main = document.getElementById('main');
const nav = document.getElementById('rooms');

function showRoom() {
  const name = location.hash.slice(1).split('/')[0];
  if (name === 'main') // the link that skips the header
    return;
  const chosen = rooms.find((each) => each.name === name) ?? rooms[0];
  for (const each of rooms) {
    each.link.toggleAttribute('aria-current', each === chosen);
    if (each === chosen)
      each.link.setAttribute('aria-current', 'page');
    each.box.hidden = each !== chosen;
  }
  if (!chosen.begun) {
    chosen.begun = true;
    chosen.room.begin(chosen.box);
  }
  chosen.room.shown?.();
  document.title = `${chosen.label}: eggfall`;
}

function showKept(failed) {
  const kept = document.getElementById('kept');
  if (failed) {
    kept.replaceChildren(el('strong', {},
      'This browser keeps no more for this page: save your work as a file before you close it.'));
    announce(kept.textContent);
    return;
  }
  if (keptNames().length === 0)
    return kept.replaceChildren('Nothing is kept yet.');
  kept.replaceChildren(button('Delete all that is kept here', () => {
    if (confirm('Delete every table, tally and answer that this page keeps in this browser? Files you saved stay.')) {
      keptNames().forEach(forget);
      location.reload();
    }
  }));
}

function begin() {
  document.getElementById('no-script').remove();
  document.getElementById('version').textContent = `eggfall ${choices.version}.`;
  if (!canRun()) {
    main.append(el('p', {class: 'problem'},
      'This browser is too old for this page: it lacks WebAssembly with exceptions. Use a version of ' +
      'Firefox, Chrome, Edge or Safari of 2023 or later.'));
    return;
  }
  warmUp();
  for (const each of rooms) {
    each.link = el('a', {href: `#${each.name}`}, each.label);
    each.box = el('section', {'aria-label': each.label, hidden: true});
    nav.append(each.link);
    main.append(each.box);
  }
  addEventListener('hashchange', showRoom);
  onKept(showKept);
  showKept(false);
  showRoom();
}

begin();
