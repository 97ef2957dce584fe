// How long the module for browsers takes beside the program, in one run.
// usage: node in_browser.mjs EGGFALL eggfall.mjs, from the top of the repository
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

const [program, module] = process.argv.slice(2);
const begun = performance.now();
const { default: load } = await import(pathToFileURL(resolve(module)));
const eggfall = await load();
const started = performance.now() - begun;

/// The median of several turns, ms.
function time(turns, work) {
  const times = [];
  for (let turn = 0; turn < turns; ++turn) {
    const from = performance.now();
    work();
    times.push(performance.now() - from);
  }
  return times.sort((a, b) => a - b)[Math.floor(turns / 2)];
}

const run = (...options) => execFileSync(program, options, { stdio: ['ignore', 'pipe', 'ignore'], maxBuffer: 1e9 });
const bare = time(9, () => run('--version')); // a process is started, which a module is once

const rows = [];
function beside(what, turns, natively, here) {
  here(); // what a browser translates at the first call it has translated then
  const peer = time(turns, natively) - bare;
  const own = time(turns, here);
  rows.push([what, peer, own, own / peer]);
}

for (const name of ['examples/brackenhill.csv', 'examples/mixed-worms.csv', 'examples/region.csv']) {
  const table = readFileSync(name);
  const settings = { name, wanted: ['analysis.json', 'report.html'] };
  beside(`analyse ${name}`, 7, () => run('analyse', name, '--json', '-', '--report', '/dev/null'),
    () => eggfall.analyse(table, settings));
}
beside('plan, quick, on one thread', 3,
  () => run('plan', '--epg', '600', '--class', 'BZ', '--quick', '--threads', '1', '--json', '-'),
  () => eggfall.plan({ meanEpg: 600, classes: ['BZ'], trials: 100 }));

console.log(`starting the module: ${started.toFixed(0)} ms`);
console.log('| work | program, ms | module, ms | ratio |\n|---|---|---|---|');
for (const [what, peer, own, ratio] of rows)
  console.log(`| ${what} | ${peer.toFixed(0)} | ${own.toFixed(0)} | ${ratio.toFixed(2)} |`);
