// Animals, out of what is typed, pasted or brought in as a table. Names alone are read here; where a
// table holds counts, the engine reads it.
import {ask} from './engine.js';
import {cellsOf} from './separated.js';

/** One form of a name, as the engine has it: blanks that nobody sees tell no names apart. */
export const tidy = (text) => text.normalize('NFC').replace(/\s+/g, ' ').trim();

/** Tags as people list them: one a line, or parted by commas or semicolons. */
export const tagsIn = (text) => text.split(/[\n,;]/).map(tidy).filter((tag) => tag !== '');

/** The first name that comes twice, or undefined. */
export const twiceIn = (names) => names.find((name, position) => names.indexOf(name) !== position);

/** As the engine compares headers; what follows a colon is the name of a worm, and stays as it is. */
function headOf(text) {
  const [head, ...worm] = tidy(text).toLowerCase().split(':');
  return [head.trim().replace(/[ -]/g, '_'), ...worm.map(tidy)].join(':');
}

/** The tidy cells of a table, by whatever parts those of its header line; without empty rows. */
function tidyCells(text) {
  const table = text.replace(/^\uFEFF/, '').replace(/^sep=.\r?\n/i, '');
  const [header] = table.split(/\r?\n/, 1);
  const mark = ['\t', ';', ','].find((each) => header.includes(each)) ?? ',';
  return cellsOf(table, mark).map((row) => row.map(tidy)).filter((row) => row.some((cell) => cell !== ''));
}

const animal_heads = ['animal', 'tag', 'ear_tag', 'animal_id', 'id'];
const group_heads = ['group', 'mob'];
const of_groups = ['role', 'drench', 'class', 'host'];
const isCount = (head) => /^(eggs|epg)_(before|after)/.test(head);
const isFactor = (head) => /^factor(_(before|after)(_\d+)?)?$/.test(head);

const apartIn = (heads) =>
  [...new Set(heads.map((head) => /^eggs_before:(.+)$/.exec(head)?.[1]).filter(Boolean))];

/** What a table that was made for the bench tells of it: chambers, and the factor of all of them. */
function benchIn(heads, rows, occasion) {
  const numbered = heads.filter((head) => new RegExp(`^eggs_${occasion}_\\d+$`).test(head)).length;
  const position = heads.indexOf(`factor_${occasion}`);
  const factors = [...new Set(rows.map((row) => row[position] ?? '').filter((cell) => cell !== ''))];
  const factor = factors.length === 1 ? Number(factors[0].replace(',', '.')) : NaN;
  return {chambers: numbered || null, factor: factor > 0 ? factor / (numbered || 1) : null};
}

/** The sample that a row of the engine's own table holds, or null. */
function broughtSample(cells, occasion, apart) {
  const eggs = cells[`eggs_${occasion}`] ?? '';
  const told = Object.fromEntries(apart.map((kind) => [kind, cells[`eggs_${occasion}:${kind}`] ?? '']));
  if (eggs === '' && Object.values(told).every((cell) => cell === ''))
    return null;
  return {state: 'brought', eggs, factor: cells[`factor_${occasion}`] ?? '', apart: told};
}

/**
 * Groups and animals of a table with a header. Rows without an animal are left out, and counted.
 * Gives null where no column names the animals.
 */
function animalsOf(header, body) {
  const heads = header.map(headOf);
  const animalAt = animal_heads.map((head) => heads.indexOf(head)).find((position) => position >= 0);
  if (animalAt === undefined)
    return null;
  const groupAt = group_heads.map((head) => heads.indexOf(head)).find((position) => position >= 0);
  const apart = apartIn(heads);
  const made = {groups: [], animals: [], samples: {before: [], after: []}, apart, unnamed: 0, host: ''};
  made.bench = {before: benchIn(heads, body, 'before'), after: benchIn(heads, body, 'after')};
  for (const row of body) {
    if (!row[animalAt]) {
      ++made.unnamed;
      continue;
    }
    const cells = Object.fromEntries(heads.map((head, position) => [head, row[position] ?? '']));
    const name = groupAt === undefined ? '' : row[groupAt] ?? '';
    let group = made.groups.findIndex((each) => each.name === name);
    if (group < 0)
      group = made.groups.push({name, role: '', drench: '', classes: ''}) - 1;
    const its = made.groups[group];
    its.role ||= cells.role?.toLowerCase() ?? '';
    its.drench ||= cells.drench ?? '';
    its.classes ||= cells.class ?? '';
    made.host ||= cells.host ?? '';
    const rest = Object.fromEntries(Object.entries(cells).filter(([head, cell], position) => cell !== '' &&
      position !== animalAt && position !== groupAt && !of_groups.includes(head) && !isCount(head) && !isFactor(head)));
    made.animals.push({group, animal: row[animalAt], rest});
    made.samples.before.push(broughtSample(cells, 'before', apart));
    made.samples.after.push(broughtSample(cells, 'after', apart));
  }
  return made;
}

/** Only the animals of a table as text, whatever else it holds; null where none are named. */
export function namesAlone(text) {
  const [header, ...body] = tidyCells(text);
  const made = header ? animalsOf(header, body) : null;
  if (!made || made.animals.length === 0)
    return null;
  const none = () => made.animals.map(() => null);
  return {...made, samples: {before: none(), after: none()}};
}

/** Whether a text is a table of names without a count: a list, or a counts table still to be filled. */
function isBlank(text) {
  const [header, ...body] = tidyCells(text);
  const counts = (header ?? []).map((cell, position) => [headOf(cell), position])
    .filter(([head]) => /^(eggs|epg|fec|count)/.test(head)).map(([, position]) => position);
  return body.every((row) => counts.every((position) => !row[position]));
}

/** An animal that comes twice in its group, as a problem; or none. */
function twiceProblems({animals, groups}) {
  const keys = animals.map(({group, animal, rest}) => [rest.trial ?? '', group, animal].join('\n'));
  const twice = twiceIn(keys);
  if (twice === undefined)
    return [];
  const {animal, group} = animals[keys.indexOf(twice)];
  return [{message: `Found ${animal} twice${groups[group].name ? ` in group ${groups[group].name}` : ''}; ` +
    'expected each tag once.'}];
}

const looksLikeText = (bytes) => !(bytes[0] === 0x50 && bytes[1] === 0x4b);

/**
 * Animals, and counts where there are some, of a file or a text. Gives {ok: true, ...} or the engine's
 * refusal with `names`, the animals alone, if those can be had.
 */
export async function tableIn({name, bytes}, settings) {
  const text = looksLikeText(bytes) ? new TextDecoder().decode(bytes) : null;
  const names = text === null ? null : namesAlone(text);
  if (names && isBlank(text)) {
    const problems = twiceProblems(names);
    return problems.length === 0 ? {ok: true, ...names} : {ok: false, problems};
  }
  const reply = await ask('understand', [bytes, {...settings, name}]);
  if (!reply.ok)
    return {...reply, names};
  const [header, ...body] = tidyCells(reply.counts);
  return {ok: true, understood: reply.understood, ...animalsOf(header, body)};
}
