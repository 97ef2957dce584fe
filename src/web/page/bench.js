// A stand-in: the bench calculator of the tally room takes its place.
import {ask} from './engine.js';
import {button, el, field, numberIn, problemBox} from './parts.js';

/** `onfactor(factor)` takes over a factor that was worked out. */
export function benchCalculator({onfactor}) {
  const fields = {
    faecesG: field({label: 'Faeces weighed, g', hint: 'Such as 3', inputmode: 'decimal'}),
    addedMl: field({label: 'Liquid added, mL', hint: 'Such as 42', inputmode: 'decimal'}),
    chambers: field({label: 'Chambers counted', hint: 'Such as 2', inputmode: 'numeric'}),
    chamberMl: field({label: 'One chamber holds, mL', hint: 'Such as 0.5', inputmode: 'decimal'}),
  };
  const said = el('div', {role: 'status'});
  async function work() {
    const bench = Object.fromEntries(Object.entries(fields).map(([name, {input}]) => [name, numberIn(input)]));
    const reply = await ask('factor', [bench]);
    said.replaceChildren(reply.ok
      ? button(`Use ${reply.factor}`, () => onfactor(reply.factor)) : problemBox(reply.problems));
  }
  return el('div', {}, el('div', {class: 'fields'}, Object.values(fields).map(({box}) => box)),
    button('Work out the factor', work), said);
}
