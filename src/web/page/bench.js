// The bench calculator: from weight, liquid and chambers to the factor. The engine works it out.
import {ask} from './engine.js';
import {keep, recall} from './kept.js';
import {announce, button, el, field, fieldProblem, numberIn, problemBox} from './parts.js';

const kept_as = 'bench';

/** Figures as a person would say them: four digits, without noughts that mean nothing. */
const short = (number) => String(Number(number.toPrecision(4)));

/** Rounded up, for a bound must not promise more than it holds. */
function shortAbove(number) {
  const step = 10 ** (Math.floor(Math.log10(number)) - 2);
  return String(Number((Math.ceil(number / step - 1e-9) * step).toPrecision(4)));
}

function benchFields() {
  const kept = recall(kept_as) ?? {};
  const made = (label, name, hint) =>
    field({label, hint, name, inputmode: 'decimal', value: kept[name] ?? ''});
  return {
    faecesG: made('Faeces, g', 'faecesG', 'Weighed, for example 3'),
    liquidMl: made('Liquid, mL', 'liquidMl', 'For example 42'),
    liquidIs: field({label: 'These mL are', name: 'liquidIs', value: kept.liquidIs ?? 'addedMl',
      choices: [['addedMl', 'added to the faeces'], ['totalMl', 'with the faeces in them']]}),
    chambers: made('Chambers counted', 'chambers', 'Of one sample, for example 2'),
    chamberMl: made('One chamber holds, mL', 'chamberMl', 'Under its lines, for example 0.5'),
  };
}

const numbers = ['faecesG', 'liquidMl', 'chambers', 'chamberMl'];

/** Tells beside each field what is no number; once it is left, for "0," is none while it is typed. */
function tellWrong(fields) {
  for (const {input} of numbers.map((name) => fields[name]))
    fieldProblem(input, Number.isNaN(numberIn(input))
      ? `Found "${input.value}"; expected a number such as 3 or 0.5.` : null);
}

/** The figures, or null while one is missing. */
function figuresIn(fields) {
  const figures = Object.fromEntries(numbers.map((name) => [name, numberIn(fields[name].input)]));
  if (Object.values(figures).some((number) => number === null || Number.isNaN(number)))
    return null;
  const {liquidMl, ...others} = figures;
  return {...others, [fields.liquidIs.input.value]: liquidMl};
}

const resultWords = (reply) => [
  el('p', {}, el('strong', {}, `Factor ${short(reply.factor)}: `),
    `one egg seen stands for ${short(reply.factor)} EPG (eggs per gram).`),
  el('p', {}, `Counted: ${short(reply.counted_ml)} mL of ${short(reply.suspension_ml)} mL.`),
  el('p', {}, 'A sample in which no egg is seen may still hold up to ' +
    `${shortAbove(reply.most_unseen_epg)} EPG, one time in twenty.`),
];

/**
 * The calculator. onfactor(factor, figures) is called when the user takes the factor over;
 * `figures` are those that were given to `ask('factor')`.
 */
export function benchCalculator({onfactor}) {
  const fields = benchFields();
  const result = el('div', {'aria-live': 'polite'});
  let latest = 0;

  const keepFigures = () =>
    keep(kept_as, Object.fromEntries(Object.entries(fields).map(([name, {input}]) => [name, input.value])));

  async function workOut() {
    const asked = ++latest;
    const figures = figuresIn(fields);
    if (!figures)
      return result.replaceChildren(el('p', {class: 'hint'}, 'The factor shows here once all five are known.'));
    const reply = await ask('factor', [figures])
      .catch((error) => ({ok: false, problems: [{message: `The engine broke off: ${error.message}`}]}));
    if (asked !== latest) // a later figure has been typed meanwhile
      return;
    if (!reply.ok)
      return result.replaceChildren(problemBox(reply.problems));
    result.replaceChildren(...resultWords(reply), button('Use this factor', () => {
      onfactor(reply.factor, figures);
      announce(`Factor ${short(reply.factor)} taken over.`);
    }));
  }

  const box = el('div', {class: 'bench'},
    el('div', {class: 'fields'}, Object.values(fields).map((each) => each.box)), result);
  box.addEventListener('input', () => { keepFigures(); workOut(); });
  box.addEventListener('change', () => tellWrong(fields));
  workOut();
  return box;
}
