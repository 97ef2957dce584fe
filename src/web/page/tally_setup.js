// Setting up a count: whose samples, which eggs, and how they are looked at.
import {benchCalculator} from './bench.js';
import {choices} from './choices.js';
import {forget, keep, recall} from './kept.js';
import {announce, button, el, field, fieldProblem, fieldset, newId, numberIn, problemBox} from './parts.js';
import {most_kinds, newCount} from './tally_count.js';
import {namesAlone, tableIn, tagsIn, tidy, twiceIn} from './tally_names.js';

const draft_as = 'tally-draft';
const most_chambers = 100;
const most_eggs = 1_000_000;

const emptyGroup = () => ({name: '', role: 'treated', drench: '', classes: '', tags: ''});

const emptyDraft = () => ({
  name: '', occasion: 'before', host: '', mainKind: 'strongyle-type', apart: '',
  chambers: '', factor: '', alarm: '',
  groups: [emptyGroup()], brought: null,
});

const wholeIn = (input, most) => {
  const number = numberIn(input);
  return Number.isInteger(number) && number >= 1 && number <= most ? number : NaN;
};

/** A field that is being mended is not called wrong any longer; what it holds is looked at again later. */
export function forgiveOnInput(form) {
  form.addEventListener('input', ({target}) => {
    if (target.hasAttribute('aria-invalid'))
      fieldProblem(target, null);
  });
}

/** Kinds of egg as they are typed: the main one, and those told apart from it. */
export const kindsIn = (mainKind, apart) => [tidy(mainKind), ...tagsIn(apart)];

/** What is wrong with kinds of egg, or null. */
export function kindsProblem(kinds) {
  if (kinds[0] === '')
    return 'Found no name; expected one for the main kind, such as strongyle-type.';
  if (kinds.length > most_kinds)
    return `Found ${kinds.length - 1} kinds; expected ${most_kinds - 1} at most beside the main one.`;
  const twice = twiceIn(kinds.map((kind) => kind.toLowerCase()));
  if (twice !== undefined)
    return `Found "${twice}" twice; expected each kind once.`;
  const marked = kinds.find((kind) => kind.includes(':'));
  return marked === undefined ? null : `Found "${marked}"; expected a name without a colon.`;
}

/**
 * Chambers, factor and number to be told at, with the calculator. read() gives them, or null after it
 * has said beside the fields what is wrong. `least`: chambers that are counted already.
 */
export function benchFieldset({legend, start, least = 1}) {
  const chambers = field({label: 'Chambers of one sample', inputmode: 'numeric', value: start.chambers ?? '',
    name: 'chambers', hint: 'How many you count, for example 2. Passes or slides count as chambers if all ' +
      'are as large.'});
  const factor = field({label: 'Factor, EPG for one egg seen', inputmode: 'decimal', name: 'factor',
    value: start.factor ?? '',
    hint: 'With all chambers of a sample taken together, for example 50. Leave it empty if you do ' +
      'not know it yet; it is needed before the trial is judged.'});
  const alarm = field({label: 'Tell me when a sample reaches, eggs', inputmode: 'numeric', name: 'alarm',
    value: start.alarm ?? '',
    hint: 'Of the main kind, for example 100. Empty: no such signal. It also sounds if sound is on.'});
  const calculator = el('details', {class: 'calculator'}, el('summary', {}, 'Work the factor out'),
    benchCalculator({onfactor(value, figures) {
      factor.input.value = String(Number(value.toPrecision(10)));
      chambers.input.value = String(figures.chambers);
      for (const {input} of [factor, chambers]) {
        fieldProblem(input, null);
        input.dispatchEvent(new Event('input', {bubbles: true}));
      }
      calculator.open = false;
      factor.input.focus();
    }}));
  const box = fieldset(legend, el('div', {class: 'fields'}, chambers.box, factor.box, alarm.box), calculator);
  function read() {
    const made = {chambers: wholeIn(chambers.input, most_chambers), factor: numberIn(factor.input),
      alarm: numberIn(alarm.input) === null ? null : wholeIn(alarm.input, most_eggs)};
    const found = ({value}) => `Found ${value.trim() ? `"${value}"` : 'nothing'}; expected`;
    const fewer = made.chambers < least;
    const wrong = [
      [chambers.input, Number.isNaN(made.chambers) || fewer
        ? `${found(chambers.input)} a whole number from ${least} to ${most_chambers}` +
          (fewer ? `: ${least} of a sample are counted already.` : '.') : null],
      [factor.input, Number.isNaN(made.factor) || (made.factor !== null && made.factor <= 0)
        ? `${found(factor.input)} a number above 0, such as 50 or 16.7.` : null],
      [alarm.input, Number.isNaN(made.alarm)
        ? `${found(alarm.input)} a whole number, such as 100, or nothing.` : null],
    ];
    for (const [input, problem] of wrong)
      fieldProblem(input, problem);
    return wrong.some(([, problem]) => problem) ? null : made;
  }
  return {box, read, inputs: {chambers: chambers.input, factor: factor.input, alarm: alarm.input}};
}

/** Name, treatment and class of a group: what the counts table says of all of its rows. */
export function groupFields(group, legend) {
  const name = field({label: 'Name of the group', value: group.name, name: 'group-name',
    hint: 'For example white, or the colour of its mark'});
  const role = field({label: 'These animals were', value: group.role, name: 'role', choices: [
    ...(group.role === '' ? [['', 'not said']] : []),
    ['treated', 'treated'], ['control', 'left untreated, as a control']]});
  const drench = field({label: 'Drench', value: group.drench, name: 'drench',
    hint: 'If known: the substance, for example ivermectin'});
  const known = choices.classes.map(({name: each, words}) => [each, `${each}: ${words}`]);
  const further = group.classes && !known.some(([each]) => each === group.classes)
    ? [[group.classes, group.classes]] : [];
  const classes = field({label: 'Class of the drench', value: group.classes, name: 'classes',
    choices: [['', 'not said'], ...known, ...further]});
  const box = fieldset(legend, el('div', {class: 'fields'}, name.box, role.box, drench.box, classes.box));
  const read = () => ({...group, name: tidy(name.input.value), role: role.input.value,
    drench: tidy(drench.input.value), classes: classes.input.value});
  return {box, read, nameInput: name.input};
}

export function tagsField({label, hint, value}) {
  const id = newId();
  const input = el('textarea',
    {id, rows: '4', name: 'tags', autocomplete: 'off', 'aria-describedby': `${id}-hint`});
  input.value = value;
  const box = el('div', {class: 'field'}, el('label', {for: id}, label), input,
    el('span', {class: 'hint', id: `${id}-hint`}, hint));
  return {box, input};
}

/** What is wrong with a list of tags, or null. */
export function tagsProblem(text) {
  if (text.includes('\t'))
    return 'Found a table of several columns; expected tags alone. A table goes under "A table or a list".';
  const tags = tagsIn(text);
  if (tags.length === 0)
    return 'Found no animal; expected their tags, one a line, such as 401.';
  const twice = twiceIn(tags);
  return twice === undefined ? null : `Found ${twice} twice in this group; expected each tag once.`;
}

/** Two fields that write a run of numbers into a list of tags. */
function numbering(into) {
  const first = field({label: 'First number', inputmode: 'numeric', hint: 'For example 401'});
  const many = field({label: 'How many animals', inputmode: 'numeric', hint: 'For example 12'});
  const box = el('details', {}, el('summary', {}, 'Number them in a row'),
    el('div', {class: 'fields'}, first.box, many.box), button('Write these numbers', () => {
      const from = wholeIn(first.input, 1e9);
      const count = wholeIn(many.input, 500);
      fieldProblem(first.input, Number.isNaN(from) ? 'Expected a whole number, such as 401.' : null);
      fieldProblem(many.input, Number.isNaN(count) ? 'Expected a whole number from 1 to 500.' : null);
      if (Number.isNaN(from) || Number.isNaN(count))
        return;
      const numbers = Array.from({length: count}, (_, position) => from + position).join('\n');
      into.value = into.value.trim() === '' ? numbers : `${into.value.trim()}\n${numbers}`;
      into.dispatchEvent(new Event('input', {bubbles: true}));
      box.open = false;
      into.focus();
      announce(`${count} tags written.`);
    }));
  return box;
}

class SetUp {
  #draft = {...emptyDraft(), ...recall(draft_as)};
  #onready;
  #parts = {};

  constructor(onready) {
    this.#onready = onready;
    this.box = el('form', {class: 'set-up', novalidate: true,
      onsubmit: (event) => { event.preventDefault(); this.#start(); }});
    forgiveOnInput(this.box);
    this.box.addEventListener('input', () => this.#keep());
    this.box.addEventListener('change', () => this.#keep());
    this.#build();
    this.#takeHandedOver();
  }

  /** The counts table of the yard sheets, if that room handed it over. */
  #takeHandedOver() {
    const handed = recall('count-list');
    if (handed === null)
      return;
    forget('count-list');
    this.#bring({name: handed.name, bytes: new TextEncoder().encode(handed.text)});
  }

  #build() {
    const draft = this.#draft;
    const parts = this.#parts;
    parts.name = field({label: 'Name of this trial', value: draft.name, name: 'trial',
      hint: 'For example Hill paddock May 2031'});
    parts.host = field({label: 'Kind of animal', value: draft.host, name: 'host',
      choices: [['', 'not said'], ...choices.hosts.map((host) => [host, host])]});
    parts.mainKind = field({label: 'Eggs that are counted', value: draft.mainKind, name: 'main-kind',
      hint: 'What the first button is called, for example strongyle-type'});
    parts.apart = field({label: 'Eggs told apart from them, if any', value: draft.apart, name: 'apart',
      hint: 'Names parted by commas, for example nematodirus. Each has a button of its own and is not in ' +
        'the main count.'});
    parts.bench = benchFieldset({legend: 'At the bench', start: draft});
    parts.problems = el('div');
    this.#buildAnimals();
    this.box.replaceChildren(
      el('h2', {tabindex: '-1'}, 'Set up a count'),
      el('p', {class: 'hint'}, 'What you fill in is kept in this browser as you go.'),
      el('div', {class: 'fields'}, parts.name.box, parts.host.box),
      this.#occasionBox(), parts.animals,
      fieldset('Kinds of egg', el('div', {class: 'fields'}, parts.mainKind.box, parts.apart.box)),
      parts.bench.box, parts.problems,
      el('div', {class: 'row'}, el('button', {type: 'submit', class: 'main'}, 'Start counting'),
        button('Empty this form', () => this.#empty())));
  }

  #occasionBox() {
    const name = newId();
    const choice = (value, words) => el('label', {class: 'tick'},
      el('input', {type: 'radio', name, value, checked: this.#draft.occasion === value,
        onchange: () => changed()}), el('span', {}, words));
    const changed = () => {
      this.#readForm();
      this.#takeBench();
      for (const [each, input] of Object.entries(this.#parts.bench.inputs))
        input.value = this.#draft[each];
    };
    this.#parts.occasion = fieldset('Which samples are on the bench?',
      choice('before', 'Those taken before treatment'), choice('after', 'Those taken after treatment'),
      el('p', {class: 'hint'},
        'The other ones go into the same count later: its table joins both by animal.'));
    return this.#parts.occasion;
  }

  #buildAnimals() {
    const parts = this.#parts;
    const made = fieldset('Whose samples?', this.#bringBox(), this.#groupsBox());
    made.classList.add('whose');
    parts.animals?.replaceWith(made);
    parts.animals = made;
  }

  // ---- a table or a list

  #bringBox() {
    const parts = this.#parts;
    const {brought} = this.#draft;
    parts.told = el('div', {'aria-live': 'polite'});
    if (brought) {
      const known = ['before', 'after'].map((each) => [each, brought.samples[each].filter(Boolean).length])
        .filter(([, number]) => number > 0)
        .map(([each, number]) => ` It holds counts ${each} treatment of ${number}; they are kept.`).join('');
      parts.told.append(el('div', {class: 'told'}, el('p', {}, `${brought.animals.length} animals from ` +
        `${brought.name}, in its order.${known}` +
        (brought.unnamed ? ` Left out: ${brought.unnamed} rows without an animal.` : '')),
        button('Take another table, or type', () => this.#drop())));
      return parts.told;
    }
    const id = newId();
    const file = el('input', {type: 'file', id, accept: '.csv,.txt,.tsv,.xlsx,.ods,text/csv',
      onchange: async () => {
        const [chosen] = file.files;
        if (chosen)
          this.#bring({name: chosen.name, bytes: new Uint8Array(await chosen.arrayBuffer())});
      }});
    const paste = tagsField({label: 'Or paste a table here', value: '',
      hint: 'Its first line names the columns, for example group, animal.'});
    const use = button('Use what is pasted', () =>
      this.#bring({name: 'pasted.csv', bytes: new TextEncoder().encode(paste.input.value)}));
    return el('details', {class: 'bring'}, el('summary', {}, 'A table or a list'),
      el('p', {class: 'hint'}, 'A counts table, as the yard sheets save it, or any list with a column of ' +
        'animals and, if you like, one of groups. Counts in it are kept.'),
      el('div', {class: 'field'}, el('label', {for: id}, 'A file (CSV, .xlsx, .ods)'), file),
      paste.box, use, parts.told);
  }

  async #bring(table, settings = {}) {
    const {told} = this.#parts;
    told.replaceChildren(el('p', {}, 'Reading it…'));
    const read = await tableIn(table, {host: this.#parts.host.input.value || undefined, ...settings})
      .catch((error) => ({ok: false, problems: [{message: `The engine broke off: ${error.message}`}]}));
    if (!read.ok) {
      const answers = (read.answers ?? []).map((answer) =>
        button(answer.means, () => this.#bring(table, {...settings, ...answer.settings})));
      const alone = read.names ? [button('Take only its animals, not its counts', () =>
        this.#take(table.name, namesAlone(new TextDecoder().decode(table.bytes))))] : [];
      told.replaceChildren(problemBox(read.problems.length ? read.problems
        : [{message: 'No column of animals was found; expected one called animal or tag.'}]),
      el('div', {class: 'row'}, answers, alone));
      return;
    }
    this.#take(table.name, read);
  }

  #take(name, read) {
    const draft = this.#draft;
    const {groups, animals, samples, apart, unnamed, host, bench} = read;
    this.#readForm();
    draft.brought = {name, animals, samples, unnamed, bench};
    draft.groups = groups.map((group) => ({...emptyGroup(), ...group}));
    draft.name ||= animals[0]?.rest.trial ?? '';
    draft.host ||= choices.hosts.includes(host) ? host : '';
    draft.apart ||= apart.join(', ');
    this.#takeBench();
    keep(draft_as, draft);
    this.#build();
    this.#parts.animals.scrollIntoView({block: 'nearest'});
    announce(`${animals.length} animals taken over.`);
  }

  /** Chambers and factor of the samples on the bench, where the table tells of them. */
  #takeBench() {
    const draft = this.#draft;
    const {chambers, factor} = draft.brought?.bench[draft.occasion] ?? {};
    if (chambers)
      draft.chambers = String(chambers);
    if (factor)
      draft.factor = String(Number(factor.toPrecision(10)));
  }

  #drop() {
    this.#readForm();
    this.#draft.brought = null;
    this.#draft.groups = [emptyGroup()];
    keep(draft_as, this.#draft);
    this.#buildAnimals();
  }

  // ---- groups

  #groupsBox() {
    const {groups, brought} = this.#draft;
    this.#parts.groups = groups.map((group, position) => this.#groupBox(group, position));
    return el('div', {}, this.#parts.groups.map((each) => each.box),
      brought ? null : button('Another group', () => this.#addGroup()));
  }

  #groupBox(group, position) {
    const {brought, groups} = this.#draft;
    const fields = groupFields(group, `Group ${position + 1}`);
    if (brought) {
      const tags = brought.animals.filter((each) => each.group === position).map(({animal}) => animal);
      fields.box.append(el('p', {class: 'hint'}, `${tags.length} animals: ${tags.slice(0, 8).join(', ')}` +
        (tags.length > 8 ? ' …' : '')));
      return fields;
    }
    const tags = tagsField({label: 'Tags of its animals', value: group.tags,
      hint: 'Typed or pasted: one a line, or parted by commas, in the order in which they are counted.'});
    fields.box.append(tags.box, numbering(tags.input));
    if (groups.length > 1)
      fields.box.append(el('div', {class: 'row'},
        button(`Remove group ${position + 1}`, () => this.#removeGroup(position))));
    return {...fields, tags: tags.input};
  }

  #addGroup() {
    this.#readForm();
    this.#draft.groups.push(emptyGroup());
    keep(draft_as, this.#draft);
    this.#buildAnimals();
    this.#parts.groups.at(-1).nameInput.focus();
  }

  #removeGroup(position) {
    this.#readForm();
    const {name, tags} = this.#draft.groups[position];
    if (tags.trim() && !confirm(`Remove group ${name || position + 1} with its ${tagsIn(tags).length} tags?`))
      return;
    this.#draft.groups.splice(position, 1);
    keep(draft_as, this.#draft);
    this.#buildAnimals();
  }

  // ---- the form as a whole

  #readForm() {
    const parts = this.#parts;
    Object.assign(this.#draft, {
      name: tidy(parts.name.input.value), host: parts.host.input.value,
      occasion: parts.occasion.querySelector('input:checked').value,
      mainKind: parts.mainKind.input.value, apart: parts.apart.input.value,
      ...Object.fromEntries(Object.entries(parts.bench.inputs).map(([name, input]) => [name, input.value])),
      groups: parts.groups.map(({read, tags}) => ({...read(), ...(tags ? {tags: tags.value} : {})})),
    });
  }

  #keep() {
    this.#readForm();
    keep(draft_as, this.#draft);
  }

  #empty() {
    if (!confirm('Empty this form? What was typed in it is gone. Counts that were started stay.'))
      return;
    this.#draft = emptyDraft();
    forget(draft_as);
    this.#build();
    this.box.querySelector('h2').focus();
  }

  /** Says beside each field what is wrong with it. */
  #check() {
    const {groups, brought, name, mainKind, apart} = this.#draft;
    const parts = this.#parts;
    fieldProblem(parts.name.input,
      name === '' ? 'Found no name; expected one, such as Hill paddock May 2031.' : null);
    fieldProblem(parts.apart.input, kindsProblem(kindsIn(mainKind, apart)));
    parts.groups.forEach(({nameInput, tags}, position) => {
      const own = groups[position].name;
      fieldProblem(nameInput, own === '' ? 'Found no name; expected one, such as white.'
        : groups.findIndex((each) => each.name === own) < position
          ? `Found "${own}" twice; expected each group once.` : null);
      if (!brought)
        fieldProblem(tags, tagsProblem(tags.value));
    });
  }

  #animals() {
    const {groups, brought} = this.#draft;
    return brought ? brought.animals
      : groups.flatMap(({tags}, group) => tagsIn(tags).map((animal) => ({group, animal, rest: {}})));
  }

  #start() {
    this.#keep();
    this.#check();
    const bench = this.#parts.bench.read();
    const wrong = this.box.querySelector('[aria-invalid]');
    if (wrong) {
      announce('This needs mending.');
      return wrong.focus();
    }
    const {name, host, mainKind, apart, groups, brought, occasion} = this.#draft;
    const count = newCount({name, host, occasion, bench, kinds: kindsIn(mainKind, apart),
      groups: groups.map(({tags, ...group}) => group), animals: this.#animals(),
      samples: brought?.samples, known: brought?.bench});
    forget(draft_as);
    this.#onready(count);
  }
}

/** The form; onready(count) is told of a count that can begin. */
export const setUp = ({onready}) => new SetUp(onready).box;

/** Whether a form was begun and not finished. */
export const isSetUpBegun = () => recall(draft_as) !== null;
