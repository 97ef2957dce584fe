// One group of the yard sheets: who it is, and the label's dose, said back as it was typed.
import {choices} from './choices.js';
import {check, fillIn, numberBox, onceReleased, readAll, tend, textBox, textsOf, ticksBox} from './form.js';
import {button, el, tick} from './parts.js';

const both_rates = 'Found a rate in mL and one in mg for each kg; expected one of the two, as the label ' +
  'has it: two could tell two doses. Empty the other.';

/** An animal whose dose is easy to check in the head. */
const exampleKg = (host) => (['cattle', 'horses'].includes(host) ? 400 : 40);

/** A product of decimals without the noise of binary fractions. */
const plain = (number) => String(Number(number.toPrecision(10)));

function doseBoxes() {
  const boxes = {};
  boxes.mlPerKg = numberBox({name: 'labelMlPerKg', label: 'mL for each kg', hint: 'As the label has it.',
    ...choices.ranges.labelMlPerKg, refuse: () => (boxes.mgPerKg.text() !== '' ? both_rates : null)});
  boxes.mgPerKg = numberBox({name: 'labelMgPerKg', label: 'or mg for each kg',
    hint: 'Of the substance. It needs the strength as well.', ...choices.ranges.labelMgPerKg,
    needed: () => boxes.strength.text() !== '',
    refuse: () => (boxes.mlPerKg.text() !== '' ? both_rates : null)});
  boxes.strength = numberBox({name: 'strengthMgPerMl', label: 'and mg in each mL',
    hint: 'The strength of the product.', ...choices.ranges.strengthMgPerMl,
    needed: () => boxes.mgPerKg.text() !== ''});
  return boxes;
}

/** The numbers typed, in words; null while there is no whole rate. */
function saidBack(boxes, host) {
  const [byVolume, bySubstance, strength] =
    [boxes.mlPerKg, boxes.mgPerKg, boxes.strength].map((each) => each.read());
  if (byVolume.wrong || bySubstance.wrong || strength.wrong)
    return null;
  const kg = exampleKg(host);
  if (byVolume.value !== null)
    return `${plain(byVolume.value)} mL for each kg: ${plain(byVolume.value * kg)} mL for ${kg} kg.`;
  if (bySubstance.value === null)
    return null;
  const each = bySubstance.value / strength.value;
  return `${plain(bySubstance.value)} mg for each kg, ${plain(strength.value)} mg in each mL: ` +
    `${plain(each)} mL for each kg, ${plain(each * kg)} mL for ${kg} kg.`;
}

/**
 * A group; `host()` tells the animals, `changed` is called as it is typed in, `removed` as it is taken
 * away, and as it is put back.
 */
export function sheetGroup({texts = {}, host, changed, removed}) {
  const name = textBox({name: 'name', label: 'Group name', hint: 'Such as white or keepers.',
    needed: 'a name that tells the group from the others'});
  const untreated = tick('Untreated control: gets no drench');
  untreated.input.checked = texts.untreated === true;
  const drench = textBox({name: 'drench', label: 'Drench', hint: 'Such as white drench, oral.'});
  const classes = ticksBox({name: 'classes', label: 'Drug class',
    hint: 'More than one for a combination. It sets the usual days of the second sample.',
    choices: choices.classes.map((each) => [each.name, `${each.name}: ${each.words}`])});
  const dose = doseBoxes();
  const boxes = [name, drench, classes, ...Object.values(dose)];
  fillIn(boxes, texts);

  const back = el('p', {class: 'said-back', 'aria-live': 'polite'});
  const treated = el('div', {}, drench.box, classes.box,
    el('fieldset', {}, el('legend', {}, 'The label’s dose'),
      el('p', {class: 'hint'}, 'From the label of your product, for your species. Left empty: a strip to ' +
        'fill in from the label before the day. Where a label gives bands of weight, leave it empty.'),
      el('div', {class: 'fields'}, Object.values(dose).map(({box}) => box)), back));
  const legend = el('legend', {});
  const group = el('fieldset', {class: 'group'}, legend, name.box, untreated.box, treated,
    el('div', {class: 'row'}, button('Remove this group', remove)));
  const box = el('div', {}, group);
  let gone = false;

  const asked = () => (untreated.input.checked ? [name] : boxes);

  /** No dose is worked out here but this one, for the reader to check the typing by. */
  function sayBack() {
    const words = saidBack(dose, host());
    back.replaceChildren(...(words ? [el('strong', {}, 'Check against the label: '), words] : []));
  }

  function show() {
    treated.hidden = untreated.input.checked;
    sayBack();
  }

  function remove() {
    gone = true;
    const again = button('Put it back', () => {
      gone = false;
      box.replaceChildren(group);
      removed();
      name.input.focus();
    });
    const lost = name.text() || 'without a name';
    box.replaceChildren(el('p', {class: 'told'}, `The group ${lost} was removed. `, again));
    removed();
    again.focus();
  }

  tend(group, asked, () => { show(); changed(); });
  group.addEventListener('change', () => {
    // The other rate is wrong as well, and its box may have been left long ago.
    if (!untreated.input.checked)
      onceReleased(() => [dose.mlPerKg, dose.mgPerKg].filter((each) => each.text() !== '').forEach(check));
  });
  show();

  return {
    box,
    show,
    isGone: () => gone,
    /** Its place among the groups that are left. */
    number(place) { legend.textContent = `Group ${place}`; },
    texts: () => ({...textsOf(boxes), untreated: untreated.input.checked}),
    focus: () => name.input.focus(),
    /** As docs/browser.md has it; null where a box is wrong, which is said. */
    read() {
      const given = readAll(asked());
      if (!given || untreated.input.checked)
        return given && {name: given.name, untreated: true};
      return {...given, classes: given.classes?.join('+') ?? null};
    },
  };
}
