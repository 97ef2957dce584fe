// The running table: an animal a row, what was counted in each chamber, and the sum.
import {button, el, newId} from './parts.js';
import {doneChambers, eggsIn, eggsOf, isTouched, nameOf} from './tally_count.js';

export const occasion_words = {before: 'before treatment', after: 'after treatment'};

const place_words = {
  open: 'being counted',
  done: 'counted',
  absent: 'not sampled',
  brought: 'brought in',
};

export function stateWords(sample, chambers) {
  if (!isTouched(sample))
    return 'to count';
  if (sample.state === 'done' && doneChambers(sample).length < chambers)
    return `${doneChambers(sample).length} of ${chambers} chambers`;
  return place_words[sample.state];
}

const number = (...text) => el('td', {class: 'number'}, ...text);

/** Cells of one kind: each chamber, and their sum. */
function kindCells(count, occasion, sample, kind) {
  const chambers = chambersShown(count, occasion);
  const none = () => Array.from({length: chambers > 1 ? chambers + 1 : 1}, () => number(''));
  if (!isTouched(sample) || sample.state === 'absent')
    return none();
  if (sample.state === 'brought')
    return [...none().slice(1), number(kind === 0 ? sample.eggs : sample.apart[count.kinds[kind]] ?? '')];
  if (kind >= sample.kinds)
    return none();
  const sum = doneChambers(sample).length > 0 ? String(eggsOf(sample, kind)) : '';
  if (chambers === 1)
    return [number(sample.state === 'open' ? unfinished(sample.chambers[0], kind) : sum)];
  const each = Array.from({length: chambers}, (_, position) => {
    const chamber = sample.chambers[position];
    return number(!chamber ? '' : chamber.done ? String(eggsIn(chamber, kind)) : unfinished(chamber, kind));
  });
  return [...each, number(el('strong', {}, sum))];
}

/** Eggs of a chamber that is still counted: marked, for they are in no sum yet. */
const unfinished = (chamber, kind) => (chamber?.taps ? `${eggsIn(chamber, kind)}…` : '');

export const chambersShown = (count, occasion) =>
  Math.max(count.bench[occasion]?.chambers ?? 1,
    ...count.samples[occasion].map((sample) => sample?.chambers?.length ?? 0));

function headRows(count, occasion, showGroups) {
  const chambers = chambersShown(count, occasion);
  const several = chambers > 1;
  const wide = several ? chambers + 1 : 1;
  const tall = several ? '2' : null;
  const first = el('tr', {}, el('th', {scope: 'col', rowspan: tall}, 'Animal'),
    showGroups ? el('th', {scope: 'col', rowspan: tall}, 'Group') : null,
    count.kinds.map((kind) => el('th',
      {scope: several ? 'colgroup' : 'col', colspan: several ? String(wide) : null},
      several ? `${kind}, by chamber` : kind)),
    el('th', {scope: 'col', rowspan: tall}, 'State'));
  if (!several)
    return [first];
  return [first, el('tr', {}, count.kinds.map(() => [
    ...Array.from({length: chambers}, (_, position) => el('th', {scope: 'col', class: 'number'}, String(position + 1))),
    el('th', {scope: 'col', class: 'number'}, 'Sum')]).flat())];
}

/**
 * The table of one occasion. Its animals are buttons: onanimal(place). update(place) draws one row
 * again, and current(place) marks the one that is counted.
 */
export function runningTable({count, occasion, showGroups, onanimal}) {
  const caption = newId();
  const body = el('tbody');
  const row = (place) => {
    const {group} = count.animals[place];
    const sample = count.samples[occasion][place];
    return el('tr', {},
      el('th', {scope: 'row'}, button(nameOf(count, place, false), () => onanimal(place), {class: 'animal'})),
      showGroups ? el('td', {}, count.groups[group].name) : null,
      count.kinds.map((_, kind) => kindCells(count, occasion, sample, kind)).flat(),
      el('td', {class: 'state'}, stateWords(sample, count.bench[occasion]?.chambers ?? 1)));
  };
  body.append(...count.animals.map((_, place) => row(place)));
  const box = el('div', {class: 'wide running', role: 'region', tabindex: '0', 'aria-labelledby': caption},
    el('table', {}, el('caption', {id: caption}, `Eggs seen ${occasion_words[occasion]}`),
      el('thead', {}, headRows(count, occasion, showGroups)), body));
  return {
    box,
    update(place) { body.children[place].replaceWith(row(place)); },
    current(place) {
      for (const [position, each] of [...body.children].entries())
        each.classList.toggle('current', position === place);
    },
  };
}
