// The questions of "Plan a test": few that need an answer, and more in a part that is folded up.
import {benchCalculator} from './bench.js';
import {choices} from './choices.js';
import {check, choiceBox, fillIn, goTo, numberBox, numbersBox, readAll, tellRefusals, tend, textsOf,
  ticksBox} from './form.js';
import {keep, recall} from './kept.js';
import {el, fieldset} from './parts.js';

const kept_as = 'plan-form';

const designs = [
  ['paired', 'Paired: the same animals before and after treatment'],
  ['two-group', 'Two-group: treated against an untreated control group, after treatment alone'],
  ['controlled', 'Controlled: treated and untreated, both before and after treatment'],
];

function animalBoxes() {
  return {
    host: choiceBox({name: 'host', label: 'Animals', needed: 'the kind of animal: the cut-offs hang on it',
      choices: choices.hosts.map((host) => [host, host])}),
    worm: choiceBox({name: 'worm', label: 'Worm', needed: 'a worm: the cut-offs for horses hang on it',
      choices: [['strongyles', 'strongyles'], ['ascarids', 'ascarids']]}),
    meanEpg: numberBox({name: 'meanEpg', label: 'Mean count expected before treatment, EPG', needed: true,
      hint: 'Eggs per gram, such as 600: the mean of a recent count, animals without eggs as well. ' +
        'A plan holds for this mean; put in fewer eggs than you hope for.',
      ...choices.ranges.meanEpg, example: 600}),
    available: numberBox({name: 'available', label: 'Animals there are, in all', whole: true,
      hint: 'Such as 40. Left empty: as many as asked for.', ...choices.ranges.available, example: 40}),
    classes: ticksBox({name: 'classes', label: 'Drug classes to test',
      hint: 'Each one ticked is given to a group of its own.', needed: 'one class or more',
      choices: choices.classes.map(({name, words}) => [name, `${name}: ${words}`])}),
  };
}

const factorBox = (name, needed) => numberBox({name, needed, label: 'One egg seen stands for, EPG',
  hint: 'The multiplication factor, such as 50 or 15.', ...choices.ranges.factor, example: 50});

const costBox = (name) => numberBox({name, label: 'Cost of one sample', hint: 'In your currency, such as 5.',
  least: 0, most: 1e5, example: 5});

const minutesBox = (name) => numberBox({name, label: 'Minutes at the bench for one sample',
  hint: 'Such as 6.', least: 0, most: 1e5, example: 6});

const countingBoxes = () => ({
  factor: factorBox('factor', true),
  cost: costBox('cost'),
  minutes: minutesBox('minutes'),
});

/** A second method of which only the cost is known would be left out without a word. */
function secondBoxes() {
  const cost = costBox('secondCost');
  const minutes = minutesBox('secondMinutes');
  const needed = () => cost.text() !== '' || minutes.text() !== '';
  return {factor: factorBox('secondFactor', needed), cost, minutes};
}

const aimBoxes = () => ({
  animals: numbersBox({name: 'animals', label: 'Group sizes to compare',
    hint: 'Animals a group, such as 8, 10, 15. Left empty: 6, 8, 10, 12, 15 and 20.',
    ...choices.ranges.groupSize, example: '8, 10, 15'}),
  power: numberBox({name: 'power', label: 'Right answers wanted, of 100 tests',
    hint: 'Left empty: 80.', ...choices.ranges.power, example: 90}),
});

const assumedBoxes = () => ({
  k: numberBox({name: 'k', label: 'Unevenness of counts, k',
    hint: 'The smaller, the more eggs come from few animals. Left empty: 0.7.',
    ...choices.ranges.k, example: 0.7}),
  withinCv: numberBox({name: 'withinCv', label: 'Between two samples of one animal',
    hint: 'Coefficient of variation beside the luck of counting. Left empty: 0.5.',
    ...choices.ranges.withinCv, example: 0.5}),
  seasonChange: numberBox({name: 'seasonChange', label: 'Untreated counts change meanwhile, times',
    hint: '0.5: they halve; 2: they double. Left empty: 1, no change.',
    ...choices.ranges.seasonChange, example: 0.5}),
  criteria: choiceBox({name: 'criteria', label: 'Judged by',
    choices: choices.criteria.map(({name, title}) => [name, title])}),
  seed: numberBox({name: 'seed', label: 'Seed', whole: true,
    hint: 'The same seed gives the same plan. Left empty: 1.', least: 0, most: 999_999_999, example: 1}),
});

/** The questions: `box` to show, and what was answered. */
export function planForm() {
  const animals = animalBoxes();
  const counting = countingBoxes();
  const second = secondBoxes();
  const aim = aimBoxes();
  const assumed = assumedBoxes();
  const ways = ticksBox({name: 'designs', label: 'Designs to compare', hint: 'None ticked: paired.',
    choices: designs});
  const all = [...Object.values(animals), counting.factor, counting.cost, counting.minutes,
    ...Object.values(second), ways, ...Object.values(aim), ...Object.values(assumed)];
  fillIn(all, recall(kept_as));

  const showWorm = () => { animals.worm.box.hidden = animals.host.text() !== 'horses'; };
  const asked = () => (animals.worm.box.hidden ? all.filter((made) => made !== animals.worm) : all);
  showWorm();

  const calculator = el('details', {}, el('summary', {}, 'Factor not known? Work it out from the bench'),
    benchCalculator({onfactor(factor) {
      counting.factor.fill(String(Number(factor.toPrecision(6))));
      check(counting.factor);
      keep(kept_as, textsOf(all));
      calculator.open = false;
      goTo(counting.factor.input);
    }}));

  const boxesOf = (made) => el('div', {class: 'fields'}, Object.values(made).map(({box}) => box));
  const {classes, ...flock} = animals;
  const box = el('div', {},
    fieldset('The animals', boxesOf(flock)),
    classes.box,
    fieldset('The counting', counting.factor.box, calculator),
    el('details', {class: 'more'},
      el('summary', {}, 'More: costs, a second counting method, designs, group sizes'),
      fieldset('The counting above', boxesOf({cost: counting.cost, minutes: counting.minutes})),
      fieldset('A second counting method, to compare', boxesOf(second)),
      ways.box,
      fieldset('Group sizes and aim', boxesOf(aim)),
      fieldset('What is assumed', boxesOf(assumed))));
  tend(box, asked, () => { showWorm(); keep(kept_as, textsOf(all)); });

  return {
    box,
    /** The wish of docs/browser.md, but for `trials`; null where a box is wrong, which is said. */
    wish() {
      const given = readAll(asked());
      if (!given)
        return null;
      const {factor, cost, minutes, secondFactor, secondCost, secondMinutes, ...wish} = given;
      const methods = [{factor, cost, minutes}];
      if (secondFactor !== null)
        methods.push({factor: secondFactor, cost: secondCost, minutes: secondMinutes});
      return {...wish, counting: methods};
    },
    /** Says beside their boxes what the engine refused, and gives the rest. */
    refused: (problems) => tellRefusals(asked(), problems),
  };
}
