// Counts eggs with eggfall.html as a person at a microscope would: by thumb, by keys, with slips, and
// with a tab that was closed in the middle.
import assert from 'node:assert/strict';
import { pathToFileURL } from 'node:url';
import { run, saved } from './as_a_user.mjs';

const engine = pathToFileURL(process.argv[3].replace(/html$/, 'mjs'));
const { default: load } = await import(engine);
const eggfall = await load();

const phone = { width: 360, height: 740 };
const button = (page, name) => page.getByRole('button', { name, exact: typeof name === 'string' });
const says = (page, text) => page.locator('#announcer').filter({ hasText: text }).waitFor({ state: 'attached' });
const heading = (page, text) => page.getByRole('heading', { name: text }).waitFor();

/// The room's first page.
async function open(page) {
  await page.getByRole('link', { name: 'Count eggs' }).click();
  await heading(page, 'Count eggs');
}

/// Two groups of three animals with tags pasted, and whatever else is filled in by label.
async function setUp(page, fields = {}) {
  await open(page);
  await page.getByRole('link', { name: 'Set up a count' }).click();
  await page.getByLabel('Name of this trial').fill('Hill paddock');
  await page.getByLabel('Name of the group').fill('white');
  await page.getByLabel('Tags of its animals').fill('401\n402\n403\n');
  await button(page, 'Another group').click();
  await page.getByLabel('Name of the group').nth(1).fill('keepers');
  await page.getByLabel('These animals were').nth(1).selectOption('control');
  await page.getByLabel('Tags of its animals').nth(1).fill('501, 502, 503');
  await page.getByLabel('Chambers of one sample').fill('2');
  await page.getByLabel('Factor, EPG for one egg seen').fill('50');
  for (const [label, value] of Object.entries(fields)) await page.getByLabel(label).fill(value);
  await button(page, 'Start counting').click();
  await heading(page, 'Sample 1 of');
}

const egg = (page, kind = 'strongyle-type') => page.getByRole('button', { name: new RegExp(`^\\d+ ?${kind}$`) });

async function taps(page, number, kind) {
  for (let i = 0; i < number; ++i) await egg(page, kind).click();
}

async function press(page, keys) {
  for (const key of keys) await page.keyboard.press(key);
}

/// What the engine makes of the saved counts table: the texts of its rows, by animal and column.
async function savedCounts(page) {
  const { name, bytes } = await saved(page, () => button(page, 'Save counts table (CSV)').click());
  const text = bytes.toString('utf8');
  const read = eggfall.understand(bytes, { name });
  assert.ok(read.ok, JSON.stringify(read.problems));
  const [header, ...rows] = read.counts.trim().split('\n').map(line => line.split(','));
  const of = Object.fromEntries(rows.map(row =>
    [row[header.indexOf('animal')], Object.fromEntries(header.map((head, at) => [head, row[at]]))]));
  return { name, text, of, groups: read.groups };
}

const toTable = (page) => page.getByRole('link', { name: 'Table and saving' }).click();
const row = (page, animal) => page.getByRole('row').filter({ has: button(page, animal) });

await run({
  'a count by thumb, with slips': async (page, look) => {
    await page.setViewportSize(phone);
    await setUp(page);
    await taps(page, 4);
    await says(page, '4 strongyle-type');
    await look('counting');
    await button(page, 'Undo').click();
    await button(page, 'Undo').click();
    await says(page, 'Undone: one strongyle-type, now 2.');
    await taps(page, 1);
    await button(page, 'Finish chamber 1').click();
    await page.getByText('Chamber 2 of 2').waitFor();
    await button(page, 'Finish chamber 2').click();
    await page.getByRole('alert').filter({ hasText: 'No egg in chamber 2 of sample 401?' }).waitFor();
    await look('question');
    await page.waitForTimeout(450);
    await button(page, 'Yes, no egg').click();
    await heading(page, 'Sample 2 of 6: 402');
    await look('second');
    await toTable(page);
    await look('table');
  },
});
