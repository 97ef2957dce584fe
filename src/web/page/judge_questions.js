// What the engine asks about a table, in boxes that can be answered.
import {button, el, field, fieldProblem, fieldset, inQuotes, numberIn, tick} from './parts.js';
import {benchCalculator} from './bench.js';
import {choices} from './choices.js';

const placeholder = 'THEIRS';
const no_factor = 'a count without a multiplication factor';
const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/** A box that is gone to when it comes up. */
const asking = (label, ...children) =>
  el('div', {class: 'told judge-question', role: 'group', tabindex: '-1', 'aria-label': label}, ...children);

/** Where something was found, in words; nothing for a table as a whole. */
export function placeOf({source, sheet, line, column, column_name}) {
  const words = [];
  if (sheet)
    words.push(`sheet ${inQuotes(sheet)}`);
  if (line)
    words.push(`line ${line}`);
  if (column_name)
    words.push(`column ${inQuotes(column_name)}`);
  else if (column)
    words.push(`column ${column}`);
  return [source, words.join(', ')].filter(Boolean).join(': ');
}

/** The lines of a problem: where, what was found and what was expected. */
export function problemWords(problem) {
  if (!problem.found)
    return problem.message;
  const place = placeOf(problem);
  return `${place ? `${place}: ` : ''}found ${problem.found}; expected ${problem.expected}`;
}

/** Whether all that the counts lack is the multiplication factor, and at which time. */
export function lacksFactor(reply) {
  if (reply.ok || !['factor', 'input'].includes(reply.kind))
    return null;
  if (reply.kind === 'input' && !reply.problems.every((problem) => problem.found === no_factor))
    return null;
  const lacks = (time) => reply.problems.some((problem) => problem.expected?.includes(`factor_${time}`));
  return lacks('before') === lacks('after') ? 'both' : lacks('before') ? 'before' : 'after';
}

/** A table in our own form whose group is called untreated: the two ways to answer. */
export function askedRole(reply) {
  if (reply.ok || reply.kind !== 'input')
    return null;
  for (const problem of reply.problems) {
    const group = /^no role for group "(.*)", whose name says untreated$/.exec(problem.found ?? '')?.[1];
    if (group !== undefined)
      return {problems: [problem], answers: [
        {means: '', settings: [{key: 'control', value: group}]},
        {means: '', settings: [{key: 'treated', value: group}]},
      ]};
  }
  return null;
}

// Answers in words.

const whole_answers = {
  'counts=epg': 'they are eggs per gram',
  'counts=eggs': 'they are eggs seen under the microscope',
  'dates=day-first': 'the day comes first',
  'dates=month-first': 'the month comes first',
  'side-by-side=repeats': 'repeated counts of one sample',
  'side-by-side=groups': 'counts of several groups',
  'occasions=before,after': 'the first is before treatment, the second after',
  'occasions=after,before': 'the first is after treatment, the second before',
};

const cell_words = {'none-seen': 'means that no egg was seen', 'not-sampled': 'means that there was no sample'};

const answers_of_key = {
  cell: (value) => {
    const position = value.lastIndexOf('=');
    return `${inQuotes(value.slice(0, position))} ${cell_words[value.slice(position + 1)] ?? value.slice(position + 1)}`;
  },
  column: (value) => {
    const position = value.indexOf('=');
    return `${inQuotes(value.slice(position + 1))} is ${value.slice(0, position).replaceAll('_', ' ')}`;
  },
  'day-before': (value) => `before treatment: ${value}`,
  'day-after': (value) => `after treatment: ${value}`,
  'mean-of': (value) => `each is the mean of ${value} counts`,
  sheet: (value) => `read ${value.split(',').map(inQuotes).join(' and ')}`,
  control: (value) => `${inQuotes(value)} was left untreated`,
  treated: (value) => `${inQuotes(value)} was treated`,
  factor: (value) => `one egg seen stands for ${value} EPG`,
  'factor-before': (value) => `one egg seen before stands for ${value} EPG`,
  'factor-after': (value) => `one egg seen after stands for ${value} EPG`,
};

const settingWords = ({key, value}) =>
  whole_answers[`${key}=${value}`] ?? answers_of_key[key]?.(value) ?? `${key.replaceAll('-', ' ')}: ${value}`;

export function answerWords({means, settings}) {
  if (settings.length === 0)
    return capital(means);
  const words = settings.map(settingWords).join(', ');
  return capital(means && !words.includes(means) ? `${words} (${means})` : words);
}

const blank_labels = {
  'day-before': 'The time before treatment, as the table has it',
  'day-after': 'The time after treatment, as the table has it',
  sheet: 'Sheets, parted by a comma',
  'mean-of': 'Each is the mean of how many counts?',
  'factor-before': 'Eggs per gram for each egg seen, before',
  'factor-after': 'Eggs per gram for each egg seen, after',
};

const isOpen = ({value}) => value === placeholder || value.endsWith(`=${placeholder}`);

/**
 * An answer whose words must be typed: a field for each setting. `heads` are what columns of the table
 * may be called.
 */
function typedAnswer({means, settings}, heads, onanswer) {
  const list = el('datalist', {id: `heads-${Math.random().toString(36).slice(2)}`},
    heads.map((head) => el('option', {value: head})));
  const fields = settings.map(({key, value}) => {
    const parted = value.indexOf('=');
    const front = key === 'column' || key === 'cell' ? value.slice(0, parted + 1) : '';
    const given = value.slice(front.length);
    const {box, input} = field({
      label: blank_labels[key] ?? (means ? capital(means) : capital(settingWords({key, value: front + '...'}))),
      hint: key === 'column' ? 'Written as in the header row of the table' : undefined,
      value: given === placeholder ? '' : given,
      list: key === 'column' && heads.length ? list.id : undefined,
    });
    return {key, front, box, input};
  });
  return el('form', {class: 'judge-typed', onsubmit: (event) => {
    event.preventDefault();
    const missing = fields.find(({input}) => input.value.trim() === '');
    for (const {input} of fields)
      fieldProblem(input, input.value.trim() === '' ? 'Found nothing here; type what the table has.' : null);
    if (missing)
      return missing.input.focus();
    const filled = fields.map(({key, front, input}) => ({key, value: front + input.value.trim()}));
    onanswer({means: '', settings: filled});
  }}, list, fields.map(({box}) => box), el('button', {type: 'submit'}, 'Answer this'));
}

/** Keys whose answers may be others than those that are offered. */
const may_differ = ['day-before', 'day-after', 'sheet', 'mean-of'];

/** `onanswer({means, settings})` takes the answer that was chosen. */
export function questionBox({problems, answers}, heads, onanswer) {
  const [asked] = problems;
  const open = answers.filter((answer) => answer.settings.some(isOpen));
  const ready = answers.filter((answer) => !answer.settings.some(isOpen));
  const others = ready.find((answer) => answer.settings.some(({key}) => may_differ.includes(key)));
  const place = placeOf(asked);
  return asking('A question about the table',
    el('h3', {}, 'A question about the table'),
    el('p', {}, `${place ? `${place}: ` : ''}found ${asked.found ?? asked.message}.`),
    el('p', {class: 'hint'}, 'Both readings are possible and the result depends on it, so nothing is guessed. ' +
      'The answer is told in the report, and can be taken back.'),
    el('div', {class: 'judge-answers'},
      ready.map((answer) => button(answerWords(answer), () => onanswer(answer)))),
    open.map((answer) => typedAnswer(answer, heads, onanswer)),
    others ? el('details', {}, el('summary', {}, 'Neither: another answer'),
      typedAnswer(others, heads, onanswer)) : null);
}

/** Answers that were given, each with a way to take it back. */
export function answersBox(answers, onback) {
  if (answers.length === 0)
    return null;
  return el('div', {}, el('h3', {}, 'Your answers'), el('ul', {class: 'judge-given'},
    answers.map((answer, index) => el('li', {}, el('span', {}, answerWords(answer)),
      button('Take back', () => onback(index), {'aria-label': `Take back: ${answerWords(answer)}`})))));
}

/**
 * Asks for the factor. `lacks` is both, before or after; `onfactor({one, before, after})` takes numbers,
 * only those that were given.
 */
export function factorBox(lacks, given, onfactor) {
  const hint = 'EPG for one egg seen, such as 50';
  const make = (label, value) => field({label, hint, inputmode: 'decimal', value: value ?? ''});
  const one = make('Factor', given.one);
  const before = make('Factor before treatment', given.before);
  const after = make('Factor after treatment', given.after);
  const apart = tick('Before and after were counted with different factors', {
    onchange: () => show(), checked: lacks !== 'both' || given.before !== undefined});
  const show = () => {
    one.box.hidden = apart.input.checked;
    before.box.hidden = !apart.input.checked || lacks === 'after';
    after.box.hidden = !apart.input.checked || lacks === 'before';
  };
  const take = (event) => {
    event?.preventDefault();
    const asked = [one, before, after].filter(({box}) => !box.hidden);
    const numbers = asked.map(({input}) => numberIn(input));
    const wrong = asked.filter((_, index) => !(numbers[index] > 0));
    for (const each of asked) {
      const {value} = each.input;
      fieldProblem(each.input, wrong.includes(each)
        ? `Found ${value.trim() ? inQuotes(value) : 'nothing'}; expected a number above 0, such as 50.` : null);
    }
    if (wrong.length > 0)
      return wrong[0].input.focus();
    const names = new Map([[one, 'one'], [before, 'before'], [after, 'after']]);
    onfactor(Object.fromEntries(asked.map((each, index) => [names.get(each), numbers[index]])));
  };
  const bench = el('details', {}, el('summary', {}, 'Work it out from what was weighed and counted'),
    benchCalculator({onfactor: (factor) => {
      const target = [one, before, after].find(({box, input}) => !box.hidden && input.value === '') ??
        [one, before, after].find(({box}) => !box.hidden);
      target.input.value = Number(factor.toPrecision(10));
      target.input.focus();
    }}));
  show();
  return asking('The multiplication factor',
    el('h3', {}, 'How many eggs per gram does one egg seen stand for?'),
    el('p', {}, 'The table has counts and no multiplication factor. The factor tells how much of each sample ' +
      'was looked at: without it nobody can tell a fall from luck, so there is no report. Your counting method or ' +
      'the bench sheet has it.'),
    el('form', {onsubmit: take}, apart.box, el('div', {class: 'fields'}, one.box, before.box, after.box),
      el('button', {type: 'submit', class: 'main'}, 'Go on with this factor')),
    bench);
}

// What decides the cut-offs, asked where the table does not say.

/** A host of the table's own, which the engine did not list, stays one to choose. */
const host_choices = (own) => [['', 'not known'], ...new Set([...choices.hosts, own].filter(Boolean))]
  .map((each) => (Array.isArray(each) ? each : [each, each]));
const mixture = '+';

function classField(group, where, onclass) {
  const known = choices.classes.map(({name, words}) => [name, `${words}, ${name}`]);
  const [first, ...more] = group.classes;
  const ticks = choices.classes.map(({name, words}) =>
    tick(words, {value: name, checked: group.classes.includes(name)}));
  const {box, input} = field({label: `Drug class of ${inQuotes(group.name)}${where}`,
    name: `class ${group.trial} ${group.name}`,
    hint: group.drench ? `Drench: ${group.drench}` : undefined,
    choices: [['', 'not known'], ...known, [mixture, 'a mixture of several']],
    value: more.length ? mixture : first ?? ''});
  const several = fieldset('Classes in the mixture', ...ticks.map((each) => each.box), button('Use these', () =>
    onclass(group, ticks.filter((each) => each.input.checked).map((each) => each.input.value).join('+'))));
  const show = () => { several.hidden = input.value !== mixture; };
  input.addEventListener('change', () => {
    show();
    if (input.value !== mixture)
      onclass(group, input.value);
  });
  show();
  box.append(several);
  return box;
}

/** One for all groups where none has a host. */
function hostFields(groups, whereOf, onhost) {
  const make = (label, some) => {
    const {box, input} = field({label, name: `host ${some[0].trial} ${some[0].name}`,
      choices: host_choices(some[0].host), value: some[0].host});
    input.addEventListener('change', () => onhost(some, input.value));
    return box;
  };
  const same = groups.every((group) => group.host === groups[0]?.host);
  if (groups.length > 0 && same)
    return [make('Kind of animal', groups)];
  return groups.map((group) => make(`Kind of animal in ${inQuotes(group.name)}${whereOf(group)}`, [group]));
}

/** `asked` tells which groups to ask about: {hosts, classes}, as they now stand. */
export function groupsBox({hosts, classes}, {onhost, onclass}) {
  if (hosts.length + classes.length === 0)
    return null;
  const trials = new Set([...hosts, ...classes].map((group) => group.trial));
  const whereOf = (group) => (trials.size > 1 ? ` in ${inQuotes(group.trial)}` : '');
  return asking('What the table does not say',
    el('h3', {}, 'What the table does not say'),
    el('p', {}, 'Cut-offs differ between kinds of animals and between drug classes. Where one is not known, a ' +
      'group may get no verdict, only its fall. The product\'s label names the substance.'),
    el('div', {class: 'fields'}, hostFields(hosts, whereOf, onhost),
      classes.map((group) => classField(group, whereOf(group), onclass))));
}

/** Counts that look like eggs per gram: the doubt comes before any verdict. */
export function unitsBox(doubts, {oneggs, onepg}) {
  if (doubts.length === 0)
    return null;
  return el('div', {class: 'problem judge-question', role: 'group', tabindex: '-1',
    'aria-label': 'Eggs seen, or eggs per gram?'},
    el('strong', {}, 'Eggs seen, or eggs per gram?'),
    el('ul', {}, doubts.map((text) => el('li', {}, text))),
    el('p', {}, 'Look at the bench sheet, not at this table, before you answer.'),
    el('div', {class: 'row'}, button('They are eggs per gram', onepg),
      button('They are eggs seen, the bench sheet says so', oneggs)));
}
