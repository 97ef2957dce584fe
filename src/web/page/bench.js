// The bench calculator: from what is weighed and counted to the multiplication factor.
import {ask} from './engine.js';
import {button, el, field, numberIn, problemBox} from './parts.js';

/** `onfactor(factor)` takes over a factor that was worked out. */
export function benchCalculator({onfactor}) {
  const fields = {
    faecesG: field({label: 'Faeces weighed, g', hint: 'Such as 3', inputmode: 'decimal'}),
    addedMl: field({label: 'Liquid added, mL', hint: 'Such as 42', inputmode: 'decimal'}),
    chambers: field({label: 'Chambers counted', hint: 'Such as 2', inputmode: 'numeric'}),
    chamberMl: field({label: 'Volume of one chamber, mL', hint: 'Such as 0.15', inputmode: 'decimal'}),
  };
  const said = el('div', {role: 'status'});
  const work = async () => {
    const bench = Object.fromEntries(Object.entries(fields).map(([name, {input}]) => [name, numberIn(input)]));
    const reply = await ask('factor', [bench]);
    if (!reply.ok)
      return said.replaceChildren(problemBox(reply.problems));
    const factor = Number(reply.factor.toPrecision(6));
    said.replaceChildren(el('p', {}, `One egg seen stands for ${factor} eggs per gram. `,
      button(`Use ${factor}`, () => onfactor(factor))));
  };
  return el('div', {}, el('div', {class: 'fields'}, Object.values(fields).map(({box}) => box)),
    button('Work out the factor', work), said);
}
