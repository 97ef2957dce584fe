// Boxes of a form that know what may stand in them. A box has
//   name           by which its text is kept, and known to the engine
//   box, input     what is shown, and what takes the focus
//   read()         {value}, which is null for an empty box, or {wrong: 'what was found and expected'}
//   text(), fill() what stands in it, to be kept and brought back
import {el, field, fieldProblem, newId, numberIn, tick} from './parts.js';

const figures = (number) => number.toLocaleString('en-GB', {maximumFractionDigits: 10});

const found = (text) => `Found “${text}”`;

/** "1,200" may be a thousand or little more than one: nobody may guess which. */
function comma(text) {
  if (!/^\d{1,3},\d{3}$/.test(text))
    return null;
  const either = [text.replace(',', ''), text.replace(',', '.').replace(/0+$/, '').replace(/\.$/, '')];
  return `${found(text)}, where the comma may mean thousands or decimals; write ${either.join(' or ')}.`;
}

const isNeeded = (needed) => (typeof needed === 'function' ? needed() : needed);

function readNumber(input, {least, most, whole, needed, example, refuse}) {
  const text = input.value.trim();
  const value = numberIn(input);
  const expected = `expected a ${whole ? 'whole ' : ''}number from ${figures(least)} to ${figures(most)}` +
    `${example === undefined ? '' : `, such as ${example}`}.`;
  if (value === null)
    return isNeeded(needed) ? {wrong: `Nothing is written here; ${expected}`} : {value};
  const unclear = comma(text);
  if (unclear)
    return {wrong: unclear};
  if (Number.isNaN(value) || value < least || value > most || (whole && !Number.isInteger(value)))
    return {wrong: `${found(text)}; ${expected}`};
  const refused = refuse?.();
  return refused ? {wrong: refused} : {value};
}

// Words that come or go above a button while it is pressed would move it away from under the finger.
let pressed = false;
let later = [];

function released() {
  pressed = false;
  const waiting = later;
  later = [];
  setTimeout(() => waiting.forEach((each) => each()));
}

addEventListener('pointerdown', () => { pressed = true; }, true);
addEventListener('pointerup', released, true);
addEventListener('pointercancel', released, true);

/** Now, or where a finger or a mouse presses something, once that is done. */
export function onceReleased(act) {
  if (pressed)
    later.push(act);
  else
    act();
}

/** What a box found wrong is said when it is left, and taken back while it is mended. */
function tellsWhenLeft(made) {
  made.input.addEventListener('change', () => onceReleased(() => check(made)));
  made.input.addEventListener('input', () => {
    if (made.input.hasAttribute('aria-invalid') && !made.read().wrong)
      fieldProblem(made.input, null);
  });
  return made;
}

const typed = (input) => ({text: () => input.value, fill: (text) => { input.value = text; }});

/**
 * A number; `least` to `most`, `whole`, `needed` (or a function that tells) and an `example` of it.
 * `refuse()` may give words against any number there, which hang on another box.
 */
export function numberBox({name, label, hint, ...limits}) {
  const {box, input} = field({label, hint, name, inputmode: limits.whole ? 'numeric' : 'decimal'});
  return tellsWhenLeft({name, box, input, read: () => readNumber(input, limits), ...typed(input)});
}

/** Whole numbers parted by commas or blanks; an empty box is null. */
export function numbersBox({name, label, hint, least, most, example}) {
  const {box, input} = field({label, hint, name});
  const read = () => {
    const texts = input.value.split(/[\s,;]+/).filter(Boolean);
    const wrong = texts.find((text) => !/^\d+$/.test(text) || Number(text) < least || Number(text) > most);
    if (wrong !== undefined)
      return {wrong: `${found(wrong)}; expected whole numbers from ${least} to ${figures(most)}, ` +
        `such as ${example}.`};
    return {value: texts.length === 0 ? null : texts.map(Number)};
  };
  return tellsWhenLeft({name, box, input, read, ...typed(input)});
}

/** Any text; `needed` says what is expected where it may not be empty. */
export function textBox({name, label, hint, needed, ...properties}) {
  const {box, input} = field({label, hint, name, ...properties});
  const read = () => {
    const value = input.value.trim() || null;
    return value === null && needed ? {wrong: `Nothing is written here; expected ${needed}.`} : {value};
  };
  return tellsWhenLeft({name, box, input, read, ...typed(input)});
}

/** One of `choices` ([value, words] each); with `needed`, none is chosen beforehand. */
export function choiceBox({name, label, hint, choices, needed}) {
  const {box, input} = field({label, hint, name,
    choices: needed ? [['', 'Choose…'], ...choices] : choices});
  const read = () => (input.value === '' && needed
    ? {wrong: `Nothing is chosen; expected ${needed}.`} : {value: input.value || null});
  return tellsWhenLeft({name, box, input, read, ...typed(input)});
}

/** Any of `choices` ([value, words] each), as ticks; its value is a list, null where none is ticked. */
export function ticksBox({name, label, hint, choices, needed}) {
  const ticks = choices.map(([value, words]) => ({value, ...tick(words, {id: newId(), name, value})}));
  const hintId = newId();
  const box = el('fieldset', {class: 'field ticks', id: newId(), 'aria-describedby': hint ? hintId : null},
    el('legend', {}, label), hint ? el('span', {class: 'hint', id: hintId}, hint) : null,
    ticks.map((each) => each.box));
  const ticked = () => ticks.filter(({input}) => input.checked).map(({value}) => value);
  const read = () => {
    if (ticked().length === 0)
      return needed ? {wrong: `Nothing is ticked; expected ${needed}.`} : {value: null};
    return {value: ticked()};
  };
  const made = {
    name, box, input: ticks[0].input, read, text: () => ticked(),
    fill: (values) => ticks.forEach(({value, input}) => { input.checked = values.includes(value); }),
  };
  box.addEventListener('change', () => check(made));
  return made;
}

/** Says beside a box what is wrong in it, if anything is. */
export function check(made) {
  const {wrong} = made.read();
  fieldProblem(made.input, wrong ?? null);
  return !wrong;
}

/** What is wrong in a form may stand in a part that is folded up. */
export function goTo(input) {
  for (let part = input.closest('details'); part; part = part.parentElement.closest('details'))
    part.open = true;
  input.focus();
}

/** The values of boxes by their names; null where one is wrong, which is then said and gone to. */
export function readAll(boxes) {
  const wrong = boxes.filter((made) => !check(made));
  if (wrong.length > 0) {
    goTo(wrong[0].input);
    return null;
  }
  return Object.fromEntries(boxes.map((made) => [made.name, made.read().value]));
}

/** Calls `changed` as boxes are typed in; what one of them mends in another is no longer said there. */
export function tend(element, boxes, changed) {
  element.addEventListener('input', changed);
  element.addEventListener('change', () => {
    changed();
    onceReleased(() => boxes().filter(({input}) => input.hasAttribute('aria-invalid')).forEach(check));
  });
}

export const textsOf = (boxes) => Object.fromEntries(boxes.map((made) => [made.name, made.text()]));

export function fillIn(boxes, texts) {
  for (const made of boxes)
    if (texts?.[made.name] !== undefined)
      made.fill(texts[made.name]);
}

/**
 * The engine names what it refuses by its own name for it: that is said beside the box of this name.
 * Gives the problems that have no box.
 */
export function tellRefusals(boxes, problems) {
  const left = [];
  let first = null;
  for (const problem of problems) {
    const [, name, words] = /^([\w.]+): (.*)$/s.exec(problem.message) ?? [];
    const made = boxes.find((each) => each.name === name);
    if (!made) {
      left.push(problem);
      continue;
    }
    fieldProblem(made.input, `${words[0].toUpperCase()}${words.slice(1)}.`);
    first ??= made.input;
  }
  if (first && left.length === 0)
    goTo(first);
  return left;
}
