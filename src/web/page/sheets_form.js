// The questions of "Yard sheets".
import {choices} from './choices.js';
import {choiceBox, fillIn, goTo, numberBox, readAll, tellRefusals, tend, textBox, textsOf} from './form.js';
import {keep, recall} from './kept.js';
import {button, el, fieldProblem, fieldset} from './parts.js';
import {sheetGroup} from './sheets_group.js';
import {animalListBox} from './sheets_list.js';

const kept_as = 'sheets-form';

const generalBoxes = () => ({
  host: choiceBox({name: 'host', label: 'Animals', needed: 'the kind of animal',
    choices: choices.hosts.map((host) => [host, host])}),
  farm: textBox({name: 'farm', label: 'Farm', hint: 'Left empty: a line to write on.'}),
  day0: textBox({name: 'day0', label: 'Day of treatment', type: 'date',
    hint: 'Left empty: lines for the dates.'}),
});

const sourceBoxes = () => ({
  from: choiceBox({name: 'from', label: 'Which animals', choices: [
    ['list', 'A list of them'], ['race', 'No list: lines to fill in at the race']]}),
  animals: numberBox({name: 'animals', label: 'Animals a group', whole: true, needed: true,
    ...choices.ranges.unlisted, example: 12,
    hint: 'Such as 12. Their groups are drawn beforehand, in a random order of lines.'}),
  blockBy: choiceBox({name: 'blockBy', label: 'Groups made alike by', choices: [
    ['', 'the earlier count, or else the weight'], ['count', 'the earlier count'], ['weight', 'the weight'],
    ['nothing', 'nothing: chance alone']]}),
});

/** The figures of the bench stand or fall together. */
function benchBoxes() {
  const boxes = {};
  const any = () => Object.values(boxes).some((box) => box.text() !== '');
  const figure = (name, label, hint, others = {}) => {
    boxes[name] = numberBox({name, label, hint, needed: any, least: 0.001, most: 100_000, ...others});
  };
  figure('faecesG', 'Faeces weighed, g', 'Such as 3.');
  figure('totalMl', 'Suspension in all, mL', 'Faeces and liquid together, such as 45.');
  figure('chambers', 'Chambers counted before treatment', 'Such as 2.', {whole: true, ...choices.ranges.chambers});
  figure('chambersAfter', 'Chambers counted after treatment', 'Left empty: as many.',
    {whole: true, ...choices.ranges.chambers, needed: false});
  figure('chamberMl', 'One chamber holds, mL', 'Such as 0.5.');
  return boxes;
}

const otherBoxes = () => ({
  doseStepMl: numberBox({name: 'doseStepMl', label: 'Steps of the drench gun, mL',
    ...choices.ranges.doseStepMl, example: 0.5, hint: 'Such as 0.5. Doses are rounded up to these steps.'}),
  toldApart: textBox({name: 'toldApart', label: 'Kinds of egg counted apart',
    hint: 'Such as nematodirus; several parted by commas.'}),
  seed: numberBox({name: 'seed', label: 'Seed', whole: true, least: 0, most: 999_999_999, example: 7,
    hint: 'The same list, groups and seed give the same allocation. Left empty: 1.'}),
});

const boxesOf = (boxes) => el('div', {class: 'fields'}, Object.values(boxes).map(({box}) => box));

/** The groups, one treated and one untreated at first. */
function groupsPart(kept, host, changed) {
  const groups = [];
  const box = el('div', {});
  const left = () => groups.filter((group) => !group.isGone());
  const number = () => left().forEach((group, i) => group.number(i + 1));
  const removed = () => { number(); changed(); };
  function add(texts) {
    const group = sheetGroup({texts, host, changed, removed});
    groups.push(group);
    box.append(group.box);
    number();
    return group;
  }
  for (const texts of kept ?? [{}, {untreated: true}])
    add(texts);
  const adding = (label, texts) => button(label, () => { add(texts).focus(); changed(); });
  return {
    box: el('div', {}, box, el('div', {class: 'row'}, adding('Add a treated group', {}),
      adding('Add an untreated control', {untreated: true}))),
    left,
  };
}

export function sheetsForm() {
  const kept = recall(kept_as) ?? {};
  const general = generalBoxes();
  const source = sourceBoxes();
  const bench = benchBoxes();
  const other = otherBoxes();
  const all = [general, source, bench, other].flatMap((boxes) => Object.values(boxes));
  fillIn(all, kept.texts);
  const list = animalListBox(kept.list, keepAll);
  const groups = groupsPart(kept.groups, () => general.host.text(), keepAll);

  const fromList = () => source.from.text() === 'list';
  const asked = () => [...all.filter((box) => box !== (fromList() ? source.animals : source.blockBy)),
    ...(fromList() ? [list] : [])];

  function keepAll() {
    const texts = groups.left().map((group) => group.texts());
    keep(kept_as, {texts: textsOf(all), list: list.text(), groups: texts});
  }

  function show() {
    list.box.hidden = !fromList();
    source.blockBy.box.hidden = !fromList();
    source.animals.box.hidden = fromList();
    groups.left().forEach((group) => group.show());
  }

  const box = el('div', {},
    fieldset('The day', boxesOf(general)),
    fieldset('The animals', source.from.box, source.animals.box, list.box, source.blockBy.box),
    el('h3', {}, 'The groups'), groups.box,
    el('details', {class: 'more'}, el('summary', {}, 'More: drench gun, bench, kinds of egg, seed'),
      boxesOf(other),
      fieldset('The bench',
        el('p', {class: 'hint'}, 'With them, the counts table has a column for each chamber, and the ' +
          'factor. Left empty: both are written in later.'),
        boxesOf(bench))));
  tend(box, asked, () => { show(); keepAll(); });
  show();

  /** From the last to the first: all that is wrong is said at once, and the first of it is gone to. */
  function readEverything() {
    const rows = groups.left().reverse().map((group) => group.read()).reverse();
    const given = readAll(asked());
    return given && rows.every(Boolean) ? {given, rows} : null;
  }

  return {
    box,
    /**
     * {wish, list} for ask('sheets'), the list as animalListBox() has it or null where there is none;
     * null where a box is wrong.
     */
    asked() {
      const read = readEverything();
      if (!read)
        return null;
      const {from, toldApart, list: listed, ...others} = read.given;
      const {faecesG, totalMl, chambers, chambersAfter, chamberMl, ...wish} = others;
      if (faecesG !== null)
        wish.bench = {faecesG, totalMl, chambers, chambersAfter, chamberMl};
      wish.toldApart = toldApart?.split(',').map((kind) => kind.trim()).filter(Boolean) ?? [];
      wish.groups = read.rows;
      if (from === 'list')
        wish.listName = listed.name;
      return {wish, list: from === 'list' ? listed : null};
    },
    /** Says what the engine refused where it stands, and gives the rest. */
    refused(problems) {
      const inList = problems.filter((problem) => problem.source);
      if (inList.length > 0 && list.text().base64 === undefined) {
        fieldProblem(list.input, inList.map((problem) => `${problem.message}.`).join(' '));
        goTo(list.input);
        return problems.filter((problem) => !problem.source);
      }
      return tellRefusals(asked(), problems);
    },
  };
}
