// Judge a trial: a table comes in, what it lacks is asked, and the engine's report is shown.
import {el, takesDroppedFiles} from './parts.js';
import {printsInstead} from './print_page.js';
import {forget, recall} from './kept.js';
import {opened, openFiles, openHandover, openText, startScreen} from './judge_start.js';
import {keptTrial} from './judge_trials.js';
import {TrialScreen} from './judge_trial.js';

let outer = null; // hidden while another room is shown
let room = null;
let start = null;
let screen = null;
let begun = false; // the page as it opens takes no focus

const isShown = () => outer !== null && !outer.hidden;
const isTypedInto = (element) => element.closest?.('input, textarea, select, [contenteditable]');

function leaveTrial() {
  screen?.leave();
  screen = null;
}

/** By the address: the trial behind it, or where to begin. */
export function shown() {
  show();
  begun = true;
}

function show() {
  const id = location.hash.split('/')[1];
  const handed = id === undefined ? recall('handover') : null;
  if (handed) {
    forget('handover');
    return openHandover(handed);
  }
  if (id !== undefined && screen?.trial.id === id)
    return;
  leaveTrial();
  const trial = id === undefined ? null : opened.get(id) ?? keptTrial(id);
  if (trial) {
    opened.set(id, trial);
    screen = new TrialScreen(trial);
    room.replaceChildren(screen.box);
    screen.begin();
    if (begun)
      screen.enter();
    return;
  }
  room.replaceChildren(start.box);
  start.shown(id === undefined ? null
    : 'That trial is not kept in this browser: it was deleted, or made in another one. Choose its file again.');
}

/** Cells pasted where nothing is typed into are a table, and so are files that were copied. */
function takesPastes() {
  addEventListener('paste', (event) => {
    if (!isShown() || event.defaultPrevented || isTypedInto(event.target))
      return;
    const {files} = event.clipboardData;
    const text = event.clipboardData.getData('text/plain');
    if (files.length > 0 && text === '')
      openFiles([...files]);
    else if (text.includes('\n'))
      openText(text);
  });
}

function takesKeys() {
  addEventListener('keydown', (event) => {
    if (!isShown() || !screen || !(event.ctrlKey || event.metaKey))
      return;
    const key = event.key.toLowerCase();
    if (key === 'p' && screen.printsReport())
      return event.preventDefault();
    if (/^[zy]$/.test(key) && !isTypedInto(event.target)) {
      event.preventDefault();
      screen.takeBack(key === 'y' || event.shiftKey);
    }
  });
}

export function begin(box) {
  outer = box;
  room = el('div', {class: 'judge'});
  box.append(room);
  start = startScreen();
  takesDroppedFiles(room, isShown, openFiles);
  takesPastes();
  takesKeys();
  printsInstead(() => (isShown() ? screen?.printable() ?? null : null));
  addEventListener('pagehide', () => screen?.keepNow());
}
