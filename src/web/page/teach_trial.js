// An invented trial: its counts for the class, its truth for whoever teaches.
import {choices} from './choices.js';
import {ask} from './engine.js';
import {choiceBox, fillIn, numberBox, readAll, tend, textsOf} from './form.js';
import {keep, recall} from './kept.js';
import {button, el, file_types, problemBox, saveFile} from './parts.js';
import {viewHeading} from './views.js';

const form_kept_as = 'teach-form';
const trial_kept_as = 'teach-trial';
const rows_shown = 12;

const lessonOf = (name) => choices.lessons.find((each) => each.name === name);

/** A name that does not tell the students what the trial teaches. */
function neutralName({lesson, seed, trials}) {
  const number = choices.lessons.indexOf(lessonOf(lesson)) + 1;
  return `lesson-${number}-seed-${seed}${trials > 1 ? `-trials-${trials}` : ''}`;
}

/** The same for people: "Lesson 8, seed 3". */
const headingOf = (wish) => neutralName(wish).replace('lesson-', 'Lesson ')
  .replace('-seed-', ', seed ').replace('-trials-', ', trials ');

/** What the teacher is told of the lesson chosen, the last part folded up: students may look on. */
function aboutLesson(name) {
  const {ask: question, lesson, host, groups} = lessonOf(name);
  return [
    el('p', {}, `${host}; ${groups.map((group) => `${group.name}: ${group.animals} animals` +
      `${group.classes ? `, ${group.classes}` : ', untreated'}`).join('; ')}.`),
    el('p', {}, el('strong', {}, 'Ask: '), question),
    el('details', {}, el('summary', {}, 'What it teaches, for the teacher'), el('p', {}, lesson)),
  ];
}

/** `made` is given what to simulate: {lesson, seed, trials}. */
export function trialForm(made) {
  const lesson = choiceBox({name: 'lesson', label: 'Lesson',
    choices: choices.lessons.map(({name, title}, i) => [name, `${i + 1}. ${title}`])});
  const boxes = [
    lesson,
    numberBox({name: 'seed', label: 'Seed', whole: true, least: 0, most: 999_999_999, example: 7,
      hint: 'The same seed gives the same trial. Left empty: 1.'}),
    numberBox({name: 'trials', label: 'Number of trials', whole: true, ...choices.ranges.invented, example: 20,
      hint: 'All in one table, such as 20. Left empty: 1.'}),
  ];
  fillIn(boxes, recall(form_kept_as));
  const about = el('div', {});
  const tell = () => about.replaceChildren(...aboutLesson(lesson.text()));
  lesson.input.addEventListener('change', tell);
  tell();
  const box = el('div', {}, el('div', {class: 'fields'}, boxes.map((each) => each.box)), about,
    el('div', {class: 'row'}, button('Invent the trial', () => {
      const given = readAll(boxes);
      if (given)
        made({lesson: given.lesson, seed: given.seed ?? 1, trials: given.trials ?? 1});
    }, {class: 'main'})));
  tend(box, () => boxes, () => keep(form_kept_as, textsOf(boxes)));
  return box;
}

/** Columns that hold one value in all of a group, and so need not stand on each line. */
function groupColumns({columns, rows}) {
  const group = columns.indexOf('group');
  const first = new Map(rows.map((row) => [row[group], row]).reverse());
  return columns.map((_, i) => i !== group && rows.every((row) => row[i] === first.get(row[group])[i]));
}

/** What holds for a whole group is said once, so that the counts have room on a phone. */
function countsTable(understood) {
  const {columns, rows} = understood;
  const said = groupColumns(understood);
  const group = columns.indexOf('group');
  const ofGroup = (name) => {
    const row = rows.find((each) => each[group] === name);
    return columns.map((column, i) => `${column} ${row[i]}`)
      .filter((_, i) => said[i] && row[i] !== '').join('; ');
  };
  const line = (cell, cells) => el('tr', {}, cells.filter((_, i) => !said[i]).map(cell));
  return [
    ...[...new Set(rows.map((row) => row[group]))].map((name) =>
      el('p', {class: 'hint'}, el('strong', {}, name), `: ${ofGroup(name)}.`)),
    el('div', {class: 'wide', tabindex: '0', role: 'region', 'aria-label': 'Counts'}, el('table', {},
      el('thead', {}, line((name) => el('th', {scope: 'col'}, name), columns)),
      el('tbody', {}, rows.slice(0, rows_shown).map((row) => line((cell) => el('td', {}, cell), row))))),
    rows.length > rows_shown ? el('p', {class: 'hint'},
      `The first ${rows_shown} of ${rows.length} lines; the file has them all.`) : null,
  ];
}

const percent = (number) => `${Number(number.toFixed(2))}%`;

/** Of one trial, the animals of which the truth is more than a count. */
function animalsOf({groups}) {
  const told = groups.flatMap(({animals}) => animals);
  const line = (words, which) => {
    const tags = told.filter(which).map(({animal}) => animal);
    return tags.length === 0 ? null : el('p', {}, el('strong', {}, `${words}: `), tags.join(', '));
  };
  return [line('Never dosed', (each) => each.undosed), line('Dosed too little', (each) => each.underdosed)];
}

function truthParts(wish, truth) {
  return [
    el('h3', {tabindex: '-1'}, 'The truth'),
    el('table', {},
      el('thead', {}, el('tr', {}, ['Group', 'Drench', 'Truly removes'].map((words) =>
        el('th', {scope: 'col'}, words)))),
      el('tbody', {}, truth.groups.map((group) => el('tr', {}, el('th', {scope: 'row'}, group.group),
        el('td', {}, group.drench),
        el('td', {}, group.role === 'control' ? 'untreated' : percent(group.true_efficacy_percent)))))),
    truth.trials.length === 1 ? animalsOf(truth.trials[0]) : null,
    el('p', {}, lessonOf(wish.lesson).lesson),
  ].flat();
}

export function trialView() {
  let wish = null;
  let made = null;
  const heading = viewHeading();
  const shown = el('div', {});
  const truth = el('div', {});
  const box = el('div', {hidden: true}, heading, shown, truth);

  const save = (ending, text, kind) =>
    button(`Save ${ending || 'counts'} (${kind.toUpperCase()})`, () =>
      saveFile(`${neutralName(wish)}${ending && `-${ending}`}.${kind}`, text, file_types[kind]));

  function judge() {
    keep('handover', {name: `${neutralName(wish)}.csv`, text: made.counts, larvae: made.larvae});
    location.hash = '#judge';
  }

  function hideTruth() {
    truth.replaceChildren(button('Show the truth', () => {
      truth.replaceChildren(...truthParts(wish, JSON.parse(made.truth)).filter(Boolean),
        button('Hide the truth', hideTruth));
      truth.querySelector('h3').focus();
    }));
  }

  function show(understood) {
    const parts = [
      el('p', {}, el('strong', {}, 'Ask: '), made.ask),
      el('div', {class: 'row'},
        button('Judge this trial', judge, {class: 'main'}),
        button('Next seed', () => make({...wish, seed: wish.seed + 1}))),
      ...countsTable(understood),
      el('div', {class: 'row'}, save('', made.counts, 'csv'), save('truth', made.truth, 'json'),
        made.larvae === null ? null : save('larvae', made.larvae, 'csv')),
    ];
    shown.replaceChildren(...parts.filter(Boolean));
    hideTruth();
  }

  async function make(wanted) {
    wish = wanted;
    keep(trial_kept_as, wish);
    heading.textContent = headingOf(wish);
    shown.replaceChildren(el('p', {role: 'status'}, 'Inventing the trial…'));
    truth.replaceChildren();
    try {
      const reply = await ask('simulate', [wanted]);
      const understood = reply.ok
        ? await ask('understand', [reply.counts, {name: `${neutralName(wanted)}.csv`}]) : reply;
      if (wish !== wanted) // another was asked for meanwhile
        return;
      if (!understood.ok)
        return shown.replaceChildren(problemBox(understood.problems));
      made = reply;
      show(understood);
    } catch (error) {
      shown.replaceChildren(problemBox([{message: error.message}], 'The trial could not be made'));
    }
  }

  return {
    box,
    make,
    /** After a reload: the last one. False where there is none. */
    makeKept() {
      const kept = wish ? null : recall(trial_kept_as);
      if (kept && lessonOf(kept.lesson))
        make(kept);
      return wish !== null;
    },
  };
}
