// A count as a counts table (docs/data-format.md), and what a person should see before it is used.
import {doneChambers, eggsIn, eggsOf, isTouched, occasions, progressOf} from './tally_count.js';
import {csvOf} from './separated.js';

/** Columns that the form allows for counts of one sample. */
const most_columns = 20;

const numberText = (number) => String(Number(number.toPrecision(10)));

/** What a spreadsheet would take for a formula gets an apostrophe before it, as in the engine's tables. */
const harmless = (text) => (/^[=+@\t-]/.test(text) && !/^[+-]?\d+([.,]\d+)?$/.test(text) ? `'${text}` : text);

/** Chambers a sample in columns of their own; 0: eggs of all chambers as one number. */
function chamberColumns(count, occasion) {
  // A table has either columns of chambers or columns of kinds.
  if (count.kinds.length > 1)
    return 0;
  const most = Math.max(count.bench[occasion]?.chambers ?? 0,
    ...count.samples[occasion].map((sample) => sample?.chambers?.length ?? 0));
  return most > 1 && most <= most_columns ? most : 0;
}

const countColumns = (columns, occasion) =>
  columns === 0 ? [`eggs_${occasion}`]
    : Array.from({length: columns}, (_, position) => `eggs_${occasion}_${position + 1}`);

const eggsText = (sample, kind) => (kind < sample.kinds ? String(eggsOf(sample, kind)) : '');

/** The factor that belongs to a sample's cells. */
function factorOf(count, occasion, sample, columns) {
  if (sample?.state === 'brought')
    return sample.factor;
  const bench = count.bench[occasion];
  if (!bench?.factor)
    return '';
  const ofOneChamber = bench.factor * bench.chambers;
  if (columns > 0)
    return numberText(ofOneChamber);
  const done = sample?.chambers ? doneChambers(sample).length : 0;
  return numberText(done > 0 ? ofOneChamber / done : bench.factor);
}

function countCells(count, sample, columns) {
  const cells = columns || 1;
  if (sample?.state === 'brought')
    return [sample.eggs, ...Array(cells - 1).fill('')];
  if (!sample?.chambers || sample.state === 'absent' || doneChambers(sample).length === 0)
    return Array(cells).fill('');
  if (columns === 0)
    return [String(eggsOf(sample, 0))];
  return Array.from({length: columns}, (_, position) => {
    const chamber = sample.chambers[position];
    return chamber?.done ? String(eggsIn(chamber, 0)) : '';
  });
}

function apartCells(count, sample) {
  return count.kinds.slice(1).map((kind, position) => {
    if (sample?.state === 'brought')
      return sample.apart[kind] ?? '';
    if (!sample?.chambers || sample.state === 'absent' || doneChambers(sample).length === 0)
      return '';
    return eggsText(sample, position + 1);
  });
}

/** The counts table, CSV. Chambers that are not finished are not in it. */
export function countsTable(count) {
  const further = [...new Set(count.animals.flatMap(({rest}) => Object.keys(rest)))]
    .filter((head) => head !== 'trial');
  const columns = Object.fromEntries(occasions.map((each) => [each, chamberColumns(count, each)]));
  const header = ['trial', 'group', 'animal', 'role', 'drench', 'class', 'host', ...further,
    ...occasions.flatMap((each) => [...countColumns(columns[each], each),
      ...count.kinds.slice(1).map((kind) => `eggs_${each}:${kind}`), `factor_${each}`])];
  const rows = count.animals.map(({group, animal, rest}, place) => {
    const {name, role, drench, classes} = count.groups[group];
    return [rest.trial ?? count.name, name, animal, role, drench, classes, count.host,
      ...further.map((head) => rest[head] ?? ''),
      ...occasions.flatMap((each) => {
        const sample = count.samples[each][place];
        return [...countCells(count, sample, columns[each]), ...apartCells(count, sample),
          factorOf(count, each, sample, columns[each])];
      })];
  });
  return csvOf([header, ...rows].map((row) => row.map((cell) => harmless(String(cell ?? '')))));
}

/** Up to five of them by name, and how many more. */
function listed(names) {
  const shown = names.slice(0, 5).join(', ');
  return names.length > 5 ? `${shown} and ${names.length - 5} more` : shown;
}

/** Whether anything was counted, or brought in, at this occasion. */
export const isBegun = (count, occasion) => count.samples[occasion].some(isTouched);

function warningsOf(count, occasion) {
  const samples = count.samples[occasion];
  const bench = count.bench[occasion];
  const namesOf = (wanted) => count.animals.filter((_, place) =>
    isTouched(samples[place]) && wanted(samples[place])).map(({animal}) => animal);
  const told = [];
  const {left} = progressOf(count, occasion);
  const begun = namesOf((sample) => sample.state === 'open');
  if (begun.length > 0)
    told.push(`Begun and not finished: ${listed(begun)}. ` +
      'A chamber that is not finished is not in the table.');
  if (left > begun.length)
    told.push(`Not counted yet: ${left - begun.length} of ${samples.length} animals. ` +
      'Their cells stay empty, which reads as not sampled.');
  const short = namesOf((sample) => sample.state === 'done' && doneChambers(sample).length < bench.chambers);
  if (short.length > 0)
    told.push(`Fewer chambers than the ${bench.chambers} of a sample: ${listed(short)}. ` +
      'The table says how many were counted, and each of their eggs weighs more.');
  const again = count.animals.map(({animal}, place) => [animal, samples[place]?.replaced ?? []])
    .filter(([, replaced]) => replaced.length > 0)
    .map(([animal, replaced]) => `${animal} (was ${replaced.join('; ')})`);
  if (again.length > 0)
    told.push(`Counted again, the last count stands: ${listed(again)}.`);
  const late = namesOf((sample) => sample.state === 'done' && sample.kinds < count.kinds.length);
  if (late.length > 0)
    told.push(`Counted before ${count.kinds.at(-1)} had a button: ${listed(late)}. ` +
      'The cell of that kind stays empty there: not counted is not none.');
  if (bench && !bench.factor)
    told.push('No factor is given. Without it no egg can be turned into eggs per gram.');
  return told;
}

/** What looks off, by occasion: [[occasion, lines]]. */
export const warnings = (count) =>
  occasions.filter((each) => isBegun(count, each)).map((each) => [each, warningsOf(count, each)])
    .filter(([, lines]) => lines.length > 0);
