// What heads the report, and how it judges, in two boxes that are folded away.
import {button, el, field, fieldProblem, fileButton, numberIn} from './parts.js';
import {choices} from './choices.js';

const heading_fields = [
  ['farm', 'Farm'],
  ['owner', 'Owner'],
  ['veterinarian', 'Veterinarian'],
  ['laboratory', 'Laboratory'],
  ['countingMethod', 'Counting method'],
];

export function headingBox(trial, onchange) {
  const fields = heading_fields.map(([name, label]) => {
    const {box, input} = field({label, name, value: trial.heading[name] ?? '', maxlength: '200'});
    input.addEventListener('change', () => {
      trial.heading[name] = input.value.trim();
      onchange();
    });
    return box;
  });
  return el('details', {}, el('summary', {}, 'Heading of the report'),
    el('p', {class: 'hint'}, 'Stands at the head of the report; what is left empty gets a line to write on.'),
    el('div', {class: 'fields'}, fields));
}

const designs = [
  ['', 'as the table allows'],
  ['paired', 'each animal before and after'],
  ['two-group', 'treated against untreated, after treatment'],
  ['controlled', 'before and after, with untreated animals'],
  ['baseline', 'before and after, animals not told apart'],
];

export function settingsBox(trial, onchange) {
  const chosen = trial.choices;
  const set = (name, value) => {
    if (value === '' || value === null)
      delete chosen[name];
    else
      chosen[name] = value;
    onchange();
  };
  const select = (label, hint, name, list) => {
    const {box, input} = field({label, hint, name, choices: list, value: chosen[name] ?? ''});
    input.addEventListener('change', () => set(name, input.value));
    return box;
  };
  const {least, most} = choices.ranges.level;
  const level = field({label: 'Level of intervals, percent',
    hint: `${least} to ${most}; left empty, what the criterion has`,
    name: 'level', value: chosen.level ?? '', inputmode: 'decimal'});
  level.input.addEventListener('change', () => {
    const number = numberIn(level.input);
    const wrong = number !== null && !(number >= least && number <= most);
    fieldProblem(level.input, wrong
      ? `Found "${level.input.value}"; expected a number from ${least} to ${most}, such as 90.` : null);
    if (!wrong)
      set('level', number);
  });
  return el('details', {}, el('summary', {}, 'More settings'),
    el('div', {class: 'fields'},
      select('Criteria shown first', 'The report tells the others too', 'criteria',
        [['', 'the first that fits'], ...choices.criteria.map(({name, title}) => [name, title])]),
      select('Comparison', 'What is compared with what', 'design', designs),
      level.box),
    cutOffs(trial, set), confirmedUnits(trial, onchange));
}

function cutOffs(trial, set) {
  const own = trial.choices.cutOffs;
  const load = async ([file]) => set('cutOffs', {name: file.name, text: await file.text()});
  return el('div', {}, el('h3', {}, 'Cut-offs of your own'),
    el('p', {class: 'hint'}, 'A TOML file with other thresholds, for hosts or worms that no guideline has.'),
    el('div', {class: 'row'}, fileButton('Choose a TOML file', load, {accept: '.toml,text/plain'}),
      own ? el('span', {}, `In use: ${own.name}`) : null,
      own ? button('Use none', () => set('cutOffs', null)) : null));
}

function confirmedUnits(trial, onchange) {
  if (!trial.choices.unitsConfirmed)
    return null;
  return el('p', {class: 'row'}, 'You said that the counts are eggs seen under the microscope. ',
    button('Take back', () => {
      delete trial.choices.unitsConfirmed;
      onchange();
    }, {'aria-label': 'Take back that the counts are eggs seen'}));
}

/** The second table: larvae told apart in cultures. */
export function larvaeBox(trial, onfile) {
  const {larvae} = trial;
  return el('details', {open: larvae !== null}, el('summary', {}, 'Larvae told apart in cultures (optional)'),
    el('p', {class: 'hint'}, 'A table of group, time (before or after), worm, and larvae or percent. With it the report tells ' +
      'how each kind of worm fared; without it one that survives can hide among the others.'),
    el('div', {class: 'row'}, fileButton('Choose the larvae table', ([file]) => onfile(file)),
      larvae ? el('span', {}, `In use: ${larvae.name}`) : null,
      larvae ? button('Leave it out', () => onfile(null)) : null));
}
