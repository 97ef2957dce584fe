// Where a table comes in, and the trials that are kept.
import {announce, button, el, fileButton} from './parts.js';
import {example} from './choices.js';
import {deleteTrial, keepTrial, keptTrial, newTrial, renameTrial, trialList} from './judge_trials.js';
import {keptFile} from './kept_file.js';

export const typed_columns = ['animal', 'group', 'eggs before', 'eggs after', 'drench', 'class', 'host', 'role'];
const rows_to_begin_with = 12;
const most_files = 4;

const stemOf = (name) => name.replace(/\.[^.]*$/, '') || name;

/** Keeps a trial and goes to it; back comes back here. */
export function open(trial) {
  keepTrial(trial);
  opened.set(trial.id, trial);
  location.hash = `judge/${trial.id}`;
}

/** Trials as they came in, whole: what is kept of a large file is less. */
export const opened = new Map();

export async function openFiles(files) {
  if (files.length === 0)
    return;
  if (files.length > most_files)
    return announce(`Found ${files.length} files; a trial has one table, or before and after in two.`);
  const kept = await Promise.all([...files].map(keptFile));
  open(newTrial(stemOf(kept[0].name), {kind: 'file', files: kept}));
}

export function openText(text) {
  open(newTrial('pasted table', {kind: 'paste', files: [{name: 'pasted table.csv', text}]}));
}

/** What another room of this page hands over: counts tapped at the bench, or an invented trial. */
export function openHandover({name, text, larvae}) {
  const trial = newTrial(stemOf(name), {kind: 'handed', files: [{name, text}]});
  if (larvae)
    trial.larvae = {name: 'larvae.csv', text: larvae};
  keepTrial(trial);
  opened.set(trial.id, trial);
  // In place of the address that came without a trial: back goes back to the room that gave it.
  location.replace(`#judge/${trial.id}`);
}

function openTyped() {
  const trial = newTrial('typed counts', {kind: 'typed', files: []});
  trial.grid = {form: 'typed', columns: typed_columns, work: null,
    rows: Array.from({length: rows_to_begin_with}, () => typed_columns.map(() => ''))};
  open(trial);
}

function openExample() {
  const {name, text} = example();
  const before = trialList().map(({id}) => keptTrial(id))
    .find((trial) => trial?.origin.kind === 'example' && !trial.grid);
  open(before ?? newTrial(stemOf(name), {kind: 'example', files: [{name, text}]}));
}

function pasteBox() {
  const area = el('textarea', {rows: '6', 'aria-label': 'Cells copied from a spreadsheet, header row included',
    placeholder: 'Paste here: Ctrl+V; on a phone, touch and hold', spellcheck: 'false',
    onpaste: (event) => {
      event.preventDefault();
      event.stopPropagation();
      take(event.clipboardData.getData('text/plain'));
    }});
  const said = el('p', {class: 'problem', role: 'alert', hidden: true});
  const take = (text) => {
    said.hidden = text.trim() !== '';
    if (said.hidden)
      return openText(text);
    said.textContent = 'Found nothing to read. Copy the cells in your spreadsheet, header row included, ' +
      'and paste them here.';
  };
  const box = el('div', {class: 'judge-paste', hidden: true}, area, said,
    button('Read these cells', () => take(area.value)));
  return {box, area};
}

function trialsBox() {
  const list = el('ul', {class: 'judge-trials'});
  const undo = el('div', {role: 'status'});
  const box = el('div', {}, el('h3', {}, 'Your trials'), el('p', {class: 'hint'},
    'Kept in this browser, on this device, until you delete them; nowhere else. A file of more than about ' +
    '400 kB is kept as the counts table it was taken for.'), undo, list);

  const remove = ({id, name}) => {
    if (!confirm(`Delete the trial "${name}" from this browser? Files you saved stay.`))
      return;
    const whole = opened.get(id);
    const bringBack = deleteTrial(id);
    opened.delete(id);
    const back = button(`Undo: bring "${name}" back`, () => {
      bringBack();
      if (whole)
        opened.set(id, whole);
      undo.replaceChildren(`"${name}" is back.`);
      show();
    });
    undo.replaceChildren(el('p', {class: 'told'}, `"${name}" was deleted. `, back));
    show();
    back.focus();
  };

  const rename = (item, {id, name}) => {
    const input = el('input', {type: 'text', value: name, maxlength: '60', 'aria-label': 'Name of the trial'});
    const form = el('form', {class: 'row', onsubmit: (event) => {
      event.preventDefault();
      const given = input.value.trim() || name;
      renameTrial(id, given);
      if (opened.has(id))
        opened.get(id).name = given;
      show();
      list.querySelector(`a[href="#judge/${id}"]`).focus();
    }}, input, el('button', {type: 'submit'}, 'Keep this name'));
    item.replaceChildren(form);
    input.focus();
    input.select();
  };

  function show() {
    const trials = trialList();
    box.hidden = trials.length === 0 && undo.childElementCount === 0;
    list.replaceChildren(...trials.map((each) => {
      const item = el('li', {}, el('a', {href: `#judge/${each.id}`}, each.name),
        el('span', {class: 'hint'},
          new Date(each.date).toLocaleString([], {dateStyle: 'medium', timeStyle: 'short'})),
        button('Rename', () => rename(item, each), {'aria-label': `Rename ${each.name}`}),
        button('Delete', () => remove(each), {'aria-label': `Delete ${each.name}`}));
      return item;
    }));
  }
  show();
  return {box, show};
}

export function startScreen() {
  const paste = pasteBox();
  const trials = trialsBox();
  const said = el('div', {});
  const pasteButton = button('Paste from a spreadsheet', () => {
    paste.box.hidden = false;
    pasteButton.setAttribute('aria-expanded', 'true');
    paste.area.focus();
  }, {'aria-expanded': 'false'});
  const box = el('div', {},
    el('h2', {}, 'Judge a trial'),
    el('p', {}, 'Bring egg counts from before and after treatment, a row for each animal. The page says ' +
      'what it takes the table for, asks what it cannot know, and gives a report with a verdict on each drench.'),
    said,
    el('div', {class: 'judge-drop'},
      el('p', {}, el('strong', {}, 'Drop a table anywhere here'), ', as your laboratory or you keep it: CSV, ',
        '.xlsx or .ods. Before and after may stand in two files: choose both.'),
      el('div', {class: 'row'},
        fileButton('Choose a file', openFiles, {multiple: true}),
        pasteButton,
        button('Type the counts in', openTyped),
        button('Try it with an invented trial', openExample)),
      paste.box),
    el('p', {}, 'Counts of many farms, or of one farm over years? ', el('a', {href: '#farms'}, 'Many farms'),
      ' counts the verdicts of all together.'),
    trials.box);
  return {box, shown(message) {
    trials.show();
    said.replaceChildren(...(message ? [el('p', {class: 'problem', role: 'alert'}, message)] : []));
  }};
}
