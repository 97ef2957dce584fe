// Whether the module for browsers and the program say the same, to the last byte: results, report
// and letter of every example, of larger files and of random trials, and every refusal.
// usage: node same_bytes.mjs EGGFALL eggfall.mjs [TRIALS], from the top of the repository
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

const [program, module, trials = '200'] = process.argv.slice(2);
const { default: load } = await import(pathToFileURL(resolve(module)));
const eggfall = await load();
const folder = mkdtempSync(join(tmpdir(), 'eggfall-same-'));
let compared = 0;
let refused = 0;
const differing = [];

/// What the program says: its files, or the lines of its refusal.
function natively(table, options) {
  const files = { json: join(folder, 'n.json'), report: join(folder, 'n.html'), workbook: join(folder, 'n.xlsx'),
    letterDocument: join(folder, 'n.docx') };
  try {
    execFileSync(program, ['analyse', table, ...options, '--json', files.json, '--report', files.report,
      '--xlsx', files.workbook, '--letter', files.letterDocument], { stdio: ['ignore', 'ignore', 'pipe'] });
  } catch (error) {
    if (error.status !== 2) throw error;
    return { refusal: error.stderr.toString() };
  }
  return Object.fromEntries(Object.entries(files).map(([name, file]) => [name, readFileSync(file)]));
}

function compare(table, options = [], settings = {}) {
  const program_says = natively(table, options);
  const module_says = eggfall.analyse(readFileSync(table), { name: table, ...settings,
    wanted: ['analysis.json', 'report.html', 'results.xlsx', 'letter.docx'] });
  if (program_says.refusal !== undefined) {
    refused += 1;
    // A page calls a setting what is an option on the command line; what is found they say alike.
    const missing = module_says.problems.filter(({ found, message }) =>
      !program_says.refusal.includes(found ?? message));
    if (module_says.ok || module_says.problems.length === 0 || missing.length > 0)
      differing.push(`${table}: refused by the program with "${program_says.refusal.trim()}", and here ` +
        (module_says.ok ? 'accepted' : `with "${module_says.problems.map(({ message }) => message).join('; ')}"`));
    return;
  }
  compared += 1;
  if (!module_says.ok) {
    differing.push(`${table}: refused here alone: ${module_says.problems[0].message}`);
    return;
  }
  for (const name of ['json', 'report', 'workbook', 'letterDocument']) {
    const here = Buffer.from(module_says[name]);
    if (!here.equals(program_says[name])) {
      const position = here.findIndex((byte, i) => byte !== program_says[name][i]);
      differing.push(`${table}: ${name} differs from byte ${position} on: ` +
        `"${program_says[name].toString('latin1', position - 40, position + 20)}" and here ` +
        `"${here.toString('latin1', position - 40, position + 20)}"`);
    }
  }
}

/// Many trials together, from one table or several.
function compareSurveys(tables, options = [], settings = {}) {
  const files = { json: join(folder, 's.json'), rows: join(folder, 's.csv'), years: join(folder, 's-years.csv'),
    report: join(folder, 's.html') };
  const text = execFileSync(program, ['survey', ...tables, ...options, '--json', files.json, '--csv', files.rows,
    '--years', files.years, '--report', files.report], { stdio: ['ignore', 'pipe', 'ignore'] });
  const here = eggfall.survey(tables.map(table => ({ name: basename(table), bytes: readFileSync(table) })), settings);
  const program_says = { text, ...Object.fromEntries(Object.entries(files).map(([name, file]) => [name, readFileSync(file)])) };
  compared += 1;
  for (const [name, bytes] of Object.entries(program_says))
    if (!here.ok || !Buffer.from(here[name]).equals(bytes))
      differing.push(`survey of ${tables}: ${here.ok ? `${name} differs` : here.problems[0].message}`);
}

const tables_in = directory => readdirSync(directory).filter(name => /\.(csv|xlsx|ods)$/.test(name))
  .map(name => `${directory}/${name}`);

try {
  for (const table of [...tables_in('examples'), ...tables_in('tests/extremes'), ...tables_in('tests/workbooks')])
    compare(table);
  compare('examples/mixed-worms.csv', ['--larvae', 'examples/mixed-worms-larvae.csv'],
    { larvae: readFileSync('examples/mixed-worms-larvae.csv'), larvaeName: 'examples/mixed-worms-larvae.csv' });
  compare('examples/brackenhill.csv', ['--larvae', 'examples/brackenhill-larvae.csv'],
    { larvae: readFileSync('examples/brackenhill-larvae.csv'), larvaeName: 'examples/brackenhill-larvae.csv' });
  compare('examples/brackenhill.csv', ['--cutoffs', 'examples/own-cut-offs.toml', '--level', '95', '--seed', '9'],
    { cutOffs: readFileSync('examples/own-cut-offs.toml', 'utf8'), level: 95, seed: 9 });

  // A text in the encodings that spreadsheets write.
  const umlauts = 'group;animal;eggs_before;eggs_after\nwei\u00df;J\u00e4hrling;30;3\nwei\u00df;M\u00e4rz;12;0\n';
  for (const [encoding, mark] of [['latin1', ''], ['utf16le', '\ufeff'], ['utf8', '\ufeff']]) {
    const table = join(folder, `${encoding}.csv`);
    writeFileSync(table, Buffer.from(mark + umlauts, encoding));
    compare(table, ['--factor', '50'], { factor: 50 });
  }

  // Many trials: as they are, by other criteria, of several tables, and over years from more than is read whole.
  compareSurveys(['examples/region.csv'], ['--by', 'class', '--by', 'region,year'], { by: ['class', 'region,year'] });
  compareSurveys(['examples/region.csv', 'examples/brackenhill.csv'], ['--criteria', 'waavp-1992'],
    { criteria: 'waavp-1992' });
  const practice = join(folder, 'practice.csv');
  execFileSync(program, ['simulate', '--practice', 'examples/practice.toml', '--counts', practice],
    { stdio: 'ignore' });
  compareSurveys([practice]);

  // Random trials of every lesson, the larger trials of a few simulations alone.
  const { lessons } = eggfall.choices();
  for (let i = 0; i < Number(trials); ++i) {
    const lesson = lessons[i % lessons.length].name;
    const { counts } = eggfall.simulate({ lesson, seed: 1000 + i });
    const table = join(folder, `${lesson}-${i}.csv`);
    writeFileSync(table, counts);
    compare(table, ['--simulations', '5'], { simulations: 5 });
  }
} finally {
  rmSync(folder, { recursive: true });
}
for (const line of differing) console.log(`FAILED ${line}`);
console.log(`${compared} analyses the same in program and module but ${differing.length}, ${refused} refusals`);
process.exit(differing.length === 0 && compared > Number(trials) && refused > 0 ? 0 : 1);
