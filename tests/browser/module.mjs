// What eggfall.mjs gives and refuses, as docs/browser.md says. usage: node module.mjs eggfall.mjs
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

const { default: load } = await import(pathToFileURL(resolve(process.argv[2])));
const eggfall = await load();
const counts = readFileSync('examples/brackenhill.csv');

const tests = {
  'text and bytes of a table are one'() {
    const wanted = { name: 'b.csv', simulations: 0, wanted: ['analysis.json'] };
    assert.equal(eggfall.analyse(counts, wanted).json, eggfall.analyse(counts.toString(), wanted).json);
    assert.equal(eggfall.analyse(new Uint8Array(counts).buffer, wanted).json,
      eggfall.analyse(counts, wanted).json);
  },
  'an analysis has every form of its result, and what was not wanted is null'() {
    const all = eggfall.analyse(counts, { name: 'b.csv', simulations: 0 });
    assert.equal(all.ok, true);
    assert.deepEqual(all.problems, []);
    assert.equal(JSON.parse(all.json).schema, 'eggfall.analysis/2');
    assert.match(all.report, /^<!DOCTYPE html>/);
    assert.equal(Buffer.from(all.workbook.subarray(0, 2)).toString(), 'PK');
    assert.match(all.letterPage, /^<!DOCTYPE html>[^]*Signature:/);
    assert.equal(Buffer.from(all.letterDocument.subarray(0, 2)).toString(), 'PK');
    assert.match(all.csv, /guarded-posterior/);
    assert.match(all.counts, /eggs_before/);
    const one = eggfall.analyse(counts, { name: 'b.csv', simulations: 0, wanted: ['report.html'] });
    assert.equal(one.json, null);
    assert.equal(one.letterPage, null);
    assert.equal(one.letterDocument, null);
    assert.equal(one.workbook, null);
  },
  'a workbook that it wrote is read again'() {
    const { workbook } = eggfall.analyse(counts, { name: 'b.csv', simulations: 0, wanted: ['results.xlsx'] });
    const read = eggfall.understand(workbook, { name: 'results.xlsx', sheet: 'No such sheet' });
    assert.match(read.problems[0].message, /Groups/);
  },
  'problems are typed, with their place'() {
    const { ok, kind, problems } = eggfall.analyse('group,animal,eggs_before,eggs_after\nw,1,few,0\n',
      { name: 'x.csv', factor: 50 });
    assert.equal(ok, false);
    assert.equal(kind, 'input');
    assert.equal(problems.length, 1);
    const { source, line, column, column_name, found, expected } = problems[0];
    assert.deepEqual({ source, line, column, column_name, found },
      { source: 'x.csv', line: 2, column: 3, column_name: 'eggs_before', found: '"few"' });
    assert.match(expected, /whole number/);
  },
  'a lacking factor and an open question are kinds of their own'() {
    assert.equal(eggfall.understand('group,animal,eggs_before,eggs_after\nw,1,3,0\n').kind, 'factor');
    const table = 'Tag,Mob,Treated on,EPG pre,EPG post\n1,W,3/5/2031,450,0\n2,W,3/5/2031,300,50\n';
    const asked = eggfall.understand(table, { factor: 50 });
    assert.equal(asked.kind, 'question');
    const { settings } = asked.answers[0];
    assert.equal(eggfall.understand(table, { factor: 50, settings }).ok, true);
  },
  'a misspelt setting is refused, not left out'() {
    assert.match(eggfall.analyse(counts, { name: 'b.csv', factr: 50 }).problems[0].message, /factr/);
  },
  'bytes that are no table, or a broken one, are refused and the engine lives on'() {
    const broken = [new Uint8Array(0), new Uint8Array(1000).fill(255), counts.subarray(0, 500),
      readFileSync('tests/workbooks/brackenhill.xlsx').subarray(0, 3000), '\u0000\u0001', '<html>'];
    for (const bytes of broken) {
      const reply = eggfall.analyse(bytes, { name: 'x', factor: 50, simulations: 0 });
      assert.equal(typeof reply.ok, 'boolean');
      if (!reply.ok) assert.ok(reply.problems[0].message.length > 20);
    }
    assert.equal(eggfall.analyse(counts, { name: 'b.csv', simulations: 0 }).ok, true);
  },
  'progress is told to the end'() {
    const told = [];
    eggfall.progress = (done, all) => told.push([done, all]);
    const reply = eggfall.plan({ meanEpg: 600, classes: ['BZ'], animals: [8], trials: 40 });
    eggfall.progress = null;
    assert.equal(reply.ok, true);
    assert.ok(told.length > 2);
    const [done, all] = told.at(-1);
    assert.equal(done, all);
  },
  'sheets, factor, lesson and a simulated trial come as documented'() {
    const sheets = eggfall.sheets({ groups: [{ name: 'white', classes: 'BZ' }] },
      readFileSync('examples/mob.csv'));
    assert.match(sheets.page, /^<!DOCTYPE html>/);
    assert.match(sheets.counts, /group/);
    // 4 g in 60 mL, 0.3 mL counted: 60 / (4 x 0.3) = 50.
    assert.equal(eggfall.factor({ faecesG: 4, totalMl: 60, chambers: 2, chamberMl: 0.15 }).factor, 50);
    assert.match(eggfall.lesson().page, /<script>/);
    const simulated = eggfall.simulate({ lesson: eggfall.choices().lessons[0].name, seed: 4 });
    assert.match(simulated.counts, /eggs_before/);
    assert.ok(JSON.parse(simulated.truth).schema.startsWith('eggfall.'));
  },
};

for (const [name, test] of Object.entries(tests)) {
  test();
  console.log(`ok ${name}`);
}
