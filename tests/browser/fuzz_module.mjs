// Puts changed bytes into every door of eggfall.mjs, for some seconds and from a seed. A fault is a
// trap, an abort, an exception, a reply without words, or an engine that says something else of the
// bundled trial than it did before. usage: node fuzz_module.mjs eggfall.mjs [SECONDS [SEED]], from
// the top of the repository
import { readFileSync, readdirSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

const [module, seconds = '30', seed = '1'] = process.argv.slice(2);
const { default: load } = await import(pathToFileURL(resolve(module)));
const eggfall = await load();

/// The same numbers for the same seed (mulberry32), in any Node.
let state = Number(seed) >>> 0;
function random() {
  state = (state + 0x6D2B79F5) >>> 0;
  let t = state;
  t = Math.imul(t ^ (t >>> 15), t | 1);
  t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
  return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
}
const below = (n) => Math.floor(random() * n);
const oneOf = (list) => list[below(list.length)];
const chance = (share) => random() < share;
/// What is sound, or now and then one of the others.
const mostly = (sound, others) => (chance(0.9) ? sound : oneOf(others));

// What is changed: the examples, and the kept inputs of the fuzz targets.
function filesIn(folder) {
  return readdirSync(folder).map((name) => join(folder, name)).sort().filter((path) => {
    const { size } = statSync(path);
    return statSync(path).isFile() && size > 0 && size < 40_000;
  });
}
const kept = (target) => filesIn(`tests/fuzz/corpus/${target}`);
const seeds = (paths) => paths.map((path) => readFileSync(path));
const tables = seeds([...filesIn('examples').filter((path) => path.endsWith('.csv')),
  ...filesIn('tests/workbooks').filter((path) => /\.(xlsx|ods)$/.test(path)), ...kept('counts'), ...kept('workbook'),
  ...kept('raw_sheets'), ...kept('understand')]);
const larvae = seeds([...kept('larvae'), 'examples/mixed-worms-larvae.csv']);
const animals = seeds([...kept('animals'), 'examples/mob.csv']);
const cutOffs = seeds([...kept('cut_offs'), 'examples/own-cut-offs.toml']);
const layouts = seeds(kept('layout'));
const scenarios = seeds(kept('scenario'));

/// What stands at the edges of numbers and texts.
const odd = ['', '\0', '\n', '\r\n', '\ufeff', ',', ';', '"', '-1', '0', '1e308', '1e-308', '1e999', 'nan', 'inf',
  '99999999999999999999', '2031-02-30', '<50', '%', '\u{1F411}', '\u202e', 'group', 'animal', 'eggs_before',
  'eggs_day:401', 'epg_after', 'factor', '[[', '='.repeat(300)].map((text) => Buffer.from(text));

function changed(bytes) {
  let out = Buffer.from(bytes);
  for (let times = 1 + below(6); times > 0; --times) {
    const start = below(out.length + 1);
    const end = Math.min(out.length, start + 1 + below(chance(0.1) ? 2000 : 12));
    switch (below(6)) {
      case 0: if (start < out.length) out[start] ^= 1 << below(8); break;
      case 1: if (start < out.length) out[start] = below(256); break;
      case 2: out = Buffer.concat([out.subarray(0, start), out.subarray(end)]); break;
      case 3: out = Buffer.concat([out.subarray(0, end), out.subarray(start, end), out.subarray(end)]); break;
      case 4: out = Buffer.concat([out.subarray(0, start), oneOf(odd), out.subarray(start)]); break;
      default: {
        const other = oneOf(tables);
        const from = below(other.length);
        out = Buffer.concat([out.subarray(0, start), other.subarray(from, from + below(200)), out.subarray(start)]);
      }
    }
  }
  return chance(0.02) ? out.subarray(0, below(out.length + 1)) : out;
}

/// As it is, now and then, so that what comes after the reading is reached too.
const input = (list) => (chance(0.3) ? oneOf(list) : changed(oneOf(list)));
const text = (bytes) => Buffer.from(bytes).toString('utf8');
const oddValue = () => oneOf([undefined, null, '', 'x', -1, 0, 1, 0.5, 1e9, NaN, Infinity, true, [], {}, [[]], ['x'],
  { file: 0 }, '\ud800', 'BZ', 'sheep', '__proto__']);

/// Settings, most of them sound, and sometimes one that is none.
function settings(sound) {
  const all = { ...sound };
  if (chance(0.15)) all[oneOf([...Object.keys(all), 'host', 'factor', 'name', 'odd'])] = oddValue();
  return all;
}
const ofTables = () => settings({
  name: mostly('t.csv', ['t.xlsx', '', 'a/b\\c', '\u00e9.ods']), factor: oneOf([1, 15, 50, 33.3, undefined]),
  host: oneOf(['sheep', 'horses', '', undefined]), control: mostly(undefined, ['control', 'x']),
  settings: chance(0.2) ? [{ key: oneOf(['dates', 'cell', 'counts', 'column', 'mean-of', 'odd']),
    value: oneOf(['day-first', 'nd=none-seen', 'epg', 'animal=Tag', '2', '']) }] : undefined,
  layout: chance(0.1) ? text(input(layouts)) : undefined,
});
const several = () => Array.from({ length: below(4) },
  () => ({ name: oneOf(['a.csv', 'b.csv', 'before.csv', 'after.csv']), bytes: input(tables) }));
const bench = () => settings({ faecesG: mostly(4, [0, -1, 1e-9]), totalMl: mostly(60, [0, 1e9]),
  chambers: mostly(2, [0, 3.5]), chamberMl: mostly(0.15, [0, 1]), wanted: mostly(undefined, [15, 1]) });

// Each takes milliseconds: what simulates is asked for next to nothing, and the lesson page, which takes
// nothing from outside and seconds to make, is left to module.mjs.
const doors = {
  understand: () => eggfall.understand(chance(0.2) ? several() : input(tables), ofTables()),
  analyse: () => eggfall.analyse(chance(0.1) ? several() : input(tables), { ...ofTables(), simulations: 0,
    ...(chance(0.3) ? { larvae: input(larvae), larvaeName: 'l.csv' } : {}),
    ...(chance(0.2) ? { cutOffs: text(input(cutOffs)) } : {}),
    design: mostly(undefined, ['paired', 'two-group', 'controlled', 'baseline', 'x']),
    level: mostly(95, [undefined, 50, 99.9, 100]), wanted: oneOf([['analysis.json'], ['letter.html', 'counts.csv'],
      ['report.html', 'results.csv'], ['letter.docx', 'results.xlsx', 'summary.txt'], mostly(['analysis.json'], [['x']])]) }),
  survey: () => eggfall.survey(chance(0.5) ? several() : input(tables), { ...ofTables(), by: mostly(undefined, [['class'],
    ['region,year'], ['x']]), wanted: oneOf([['survey.json'], ['survey.txt', 'rows.csv'], ['survey.html', 'years.csv']]) }),
  sheets: () => eggfall.sheets(settings({ groups: mostly([{ name: 'white', classes: 'BZ', labelMlPerKg: 0.2 }], [[], [{}],
    [{ name: 'a' }, { name: 'a' }], 'x']), host: 'sheep', bench: chance(0.3) ? bench() : undefined }),
  chance(0.7) ? input(animals) : null),
  plan: () => eggfall.plan({ ...settings({ meanEpg: mostly(600, [0, -1, 1e12]), classes: ['BZ'] }), animals: [5], trials: 1,
    efficacies: [90] }),
  factor: () => eggfall.factor(bench()),
  simulate: () => eggfall.simulate({ ...settings({ seed: mostly(1, [-1, 1e30]) }), trials: 1,
    ...(chance(0.7) ? { scenario: text(input(scenarios)).replace(/\d{4,}/g, '9') } : { lesson: oneOf(['class', 'x']) }) }),
  choices: () => eggfall.choices(),
  // Any request at all, with files or without.
  ask: () => eggfall.ask(settings({ request: mostly('understand', ['analyse', 'survey', 'sheets', 'x', undefined]),
    tables: mostly([{ name: 'a', file: 0 }], [undefined, [], [{ file: 9 }], [{ file: -1 }], 'x']),
    factor: 50 }), chance(0.9) ? [input(tables)] : []),
};

/// What is no clear answer, in words; nothing of one that is.
function fault(reply) {
  if (typeof reply?.ok !== 'boolean') return 'a reply that does not say whether it is one';
  if (reply.ok) return null;
  if (reply.kind === 'calculation') return `a calculation that failed: ${reply.problems[0]?.message}`;
  if (reply.problems.length === 0) return 'a refusal without a problem';
  for (const { message } of reply.problems)
    if (typeof message !== 'string' || message.length < 15 || /[\u0000-\u0009\u000b-\u001f\u007f]/.test(message))
      return `a message that says nothing, or would garble a page: ${JSON.stringify(message)}`;
  return null;
}

const bundled = readFileSync('examples/doses.csv');
const judged = () => eggfall.analyse(bundled, { name: 'd.csv', factor: 15, simulations: 0, wanted: ['analysis.json'] }).json;
const before = judged();
const counts = Object.fromEntries(Object.keys(doors).map((door) => [door, { asked: 0, accepted: 0 }]));
const faults = [];
const names = Object.keys(doors);
const until = Date.now() + 1000 * Number(seconds);
const slow = 5000;
let asked = 0;
for (; Date.now() < until && faults.length < 5; ++asked) {
  const door = names[asked % names.length];
  const from = state;
  const start = Date.now();
  let reply;
  try {
    reply = doors[door]();
  } catch (error) {
    // JSON has no place for some values, which is the caller's own exception, before the engine.
    faults.push(`${door} (state ${from}): ${error.name}: ${error.message}`);
    if (error instanceof WebAssembly.RuntimeError) break; // the engine is lost
    continue;
  }
  counts[door].asked += 1;
  counts[door].accepted += reply.ok ? 1 : 0;
  const what = fault(reply);
  if (what) faults.push(`${door} (state ${from}): ${what}`);
  if (Date.now() - start > slow) faults.push(`${door} (state ${from}): took ${Date.now() - start} ms`);
}
if (faults.length === 0 && judged() !== before) faults.push('the engine says something else of a trial than before');
for (const [door, { asked: times, accepted }] of Object.entries(counts)) {
  console.log(`${door.padEnd(10)} ${String(times).padStart(7)} asked, ${String(accepted).padStart(7)} accepted`);
  // A door that nothing passes, or nothing is refused at, is not tried.
  if (Number(seconds) >= 5 && times > 20 && accepted === 0) faults.push(`${door}: nothing was accepted`);
}
for (const line of faults) console.log(`FAULT ${line}`);
console.log(`${asked} requests in ${seconds} s from seed ${seed}: ${faults.length} faults`);
process.exit(faults.length === 0 && asked > names.length ? 0 : 1);
