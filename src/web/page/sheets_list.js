// The list of animals: pasted or brought in. A text can be read and mended here; a workbook, or a file
// in another encoding, goes to the engine as it is.
import {check} from './form.js';
import {keptFile} from './kept_file.js';
import {button, counted, el, fieldProblem, newId} from './parts.js';

const largest_file = 2_000_000;

/** A list to be shown: a mark of its encoding is none of its text. */
async function opened(file) {
  const kept = await keptFile(file);
  return kept.text === undefined ? kept : {...kept, text: kept.text.replace(/^\uFEFF/, '')};
}

const linesIn = (text) => text.split(/\r\n|\r|\n/).filter((line) => line.trim() !== '').length;

/** The list: `box`, and as a box of form.js. `changed` is called as it changes. */
export function animalListBox(kept, changed) {
  let list = kept ?? {name: 'list of animals', text: ''};
  const text = el('textarea', {rows: '6', spellcheck: 'false', id: newId(), wrap: 'off',
    placeholder: 'animal,weight_kg,epg\n701,29.3,850\n702,29.4,0'});
  const area = el('div', {class: 'field'}, el('label', {for: text.id}, 'The list, written or pasted'), text);
  const told = el('p', {class: 'hint', role: 'status'});
  const file = el('input', {type: 'file', class: 'unseen-file', accept: '.csv,.txt,.tsv,.xlsx,.ods',
    'aria-label': 'Bring in a list from a file'});
  const undo = el('div', {});
  const workbook = el('p', {class: 'told'});
  const box = el('div', {},
    el('p', {class: 'hint'}, 'One line an animal; the first line names the columns animal, weight_kg and ' +
      'epg (an earlier count, which serves to make the groups alike). The last two may be missing.'),
    el('label', {class: 'button file'}, 'Bring in a list from a file', file), undo, workbook, area, told);

  function show() {
    area.hidden = list.base64 !== undefined;
    workbook.hidden = !area.hidden;
    workbook.replaceChildren(`${list.name} was brought in as it is. `,
      button('Take it away', () => replace({name: 'list of animals', text: ''})));
    if (text.value !== (list.text ?? ''))
      text.value = list.text ?? '';
    const lines = list.text ? linesIn(list.text) - 1 : 0;
    told.textContent = lines > 0
      ? `${list.name}: ${counted(lines, 'line')} below the first.` : '';
  }

  function replace(other) {
    const before = list;
    list = other;
    fieldProblem(text, null);
    show();
    changed();
    const empty = before.text === '';
    undo.replaceChildren(...(empty ? [] : [el('p', {class: 'told'}, `${before.name} was replaced. `,
      button('Put it back', () => { replace(before); undo.replaceChildren(); text.focus(); }))]));
  }

  file.addEventListener('change', async () => {
    const [chosen] = file.files;
    if (!chosen)
      return;
    if (chosen.size > largest_file)
      fieldProblem(text, `Found a file of ${Math.ceil(chosen.size / 1e6)} MB; expected a list of animals, ` +
        'of 2 MB at most.');
    else
      replace(await opened(chosen));
    file.value = '';
  });
  text.addEventListener('input', () => {
    list = {name: list.name, text: text.value};
    fieldProblem(text, null);
    show();
    changed();
  });
  show();

  const made = {
    name: 'list', box, input: text, text: () => list, fill: () => {},
    read: () => (list.base64 === undefined && list.text.trim() === ''
      ? {wrong: 'Nothing is written here; expected a list of animals, or choose lines to fill in above.'}
      : {value: list}),
  };
  text.addEventListener('change', () => check(made));
  return made;
}
