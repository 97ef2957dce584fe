// Many farms, as a consultant or an extension officer would use it.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { frameOf, run, saved } from './as_a_user.mjs';

const region = readFileSync('examples/region.csv', 'utf8');

const header = 'farm,trial,year,group,class,drench,host,animal,eggs_before,eggs_after';

/// A farm's test of one drench on eight animals, each of which keeps so many eggs of a hundred.
const test = (farm, year, left, more = '') => [38, 51, 22, 70, 44, 29, 60, 35].map((eggs, animal) =>
  `${farm},${farm},${year},white,BZ,albendazole,sheep,${animal + 1},${eggs},${Math.round(eggs * left / 100)}${more}`);

const table = (tests, more = '') => [`${header}${more}`, ...tests.flat()].join('\n') + '\n';
const years = table([test('Alder Fold', 2030, 0, ',15'), test('Alder Fold', 2031, 60, ',15'),
  test('Birk Hope', 2030, 0, ',15'), test('Birk Hope', 2031, 0, ',15')], ',factor');
const other_years = years.replaceAll('Alder', 'Elder').replaceAll('Birk', 'Burnt');

const file = (name, text) => ({ name, mimeType: 'text/csv', buffer: Buffer.from(text) });

async function choose(page, ...files) {
  await page.getByRole('navigation').getByRole('link', { name: 'Many farms' }).click();
  const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.getByText('Choose tables').click()]);
  await chooser.setFiles(files);
}

const heading = (page, words) => page.getByRole('heading', { name: words }).waitFor();

await run({
  async 'one table: counts by class and by region, and what can be kept'(page, look) {
    await page.getByRole('link', { name: 'Many farms' }).first().click();
    await look('start');
    await choose(page, file('region.csv', region));
    await heading(page, 'Many farms: 80 groups treated, in 40 trials');
    assert.match(page.url(), /#farms\/answer$/);
    assert.match(await page.evaluate(() => document.activeElement.textContent), /^Many farms: 80 groups/);
    // As docs/survey.md shows them, by the program.
    const row = page.getByRole('region', { name: 'By class' }).getByRole('row', { name: /^BZ/ });
    assert.deepEqual(await row.getByRole('cell').allTextContents(),
      ['26', '10', '0', '13', '3', '0', '50 (32 to 68)', '62']);
    await page.getByText('1 group is barred from the class of its counts').waitFor();
    await page.getByText('These are the farms that sent counts').first().waitFor();
    await frameOf(page, 'Report of many farms').getByRole('heading', { level: 1 }).waitFor();
    await look('answer');
    const rows = await saved(page, () => page.getByRole('button', { name: 'Rows CSV' }).click());
    assert.equal(rows.name, 'region-rows.csv');
    assert.equal(rows.bytes.toString().trim().split('\r\n').length, 81);
    const json = await saved(page, () => page.getByRole('button', { name: 'Survey JSON' }).click());
    assert.equal(JSON.parse(json.bytes).all.tested, 80);
    await page.goBack();
    await heading(page, 'Many farms');
    await page.getByText('Chosen: region.csv.').waitFor();
  },

  async 'a drench that is lost stands with its years, and one that holds does not'(page, look) {
    await choose(page, file('years.csv', years));
    await heading(page, 'Many farms: 4 groups treated, in 4 trials');
    await page.getByText(/tested again in another year or month: lost 1, /).first().waitFor();
    const lost = page.getByRole('region', { name: 'Alder Fold, albendazole, sheep: lost' });
    assert.equal(await lost.getByRole('row', { name: /^203/ }).count(), 2);
    await lost.getByRole('row', { name: /^2031 .*resistant.* over 99/ }).waitFor();
    assert.equal(await page.getByRole('region', { name: /Birk Hope/ }).count(), 0);
    await look('years');
    const saves = await saved(page, () => page.getByRole('button', { name: 'Years CSV' }).click());
    assert.match(saves.bytes.toString(), /\r\nAlder Fold,albendazole,sheep,,lost,/);
  },

  async 'several tables and settings; a trial that is in two of them is refused'(page) {
    await choose(page, file('one.csv', years), file('two.csv', other_years));
    await heading(page, 'Many farms: 8 groups treated, in 8 trials');
    await page.getByText('How 2 tables were read').waitFor();
    await page.getByRole('link', { name: 'Other tables or settings' }).click();
    await page.getByText('Settings', { exact: true }).click();
    await page.getByLabel('farm', { exact: true }).check();
    await page.getByRole('button', { name: 'Count again with these settings' }).click();
    await page.getByRole('region', { name: 'By farm' }).getByRole('row', { name: /^Elder Fold 2/ }).waitFor();
    await choose(page, file('one.csv', years), file('again.csv', years));
    await page.getByRole('alert').getByText('again.csv: found a trial "Alder Fold" again').waitFor();
    assert.equal(await page.evaluate(() => document.activeElement.className), 'problem');
  },

  async 'what the tables do not say is asked, and the answer can be taken back'(page, look) {
    await choose(page, file('no-factor.csv', table([test('Carr End', 2030, 0), test('Dove Holes', 2030, 50)])));
    await page.getByRole('heading', { name: 'How many eggs per gram does one egg seen stand for?' }).waitFor();
    await look('factor');
    await page.getByLabel('Factor', { exact: true }).fill('15');
    await page.getByRole('button', { name: 'Go on with this factor' }).click();
    await heading(page, 'Many farms: 2 groups treated, in 2 trials');
    // A date that can be read two ways.
    const dated = 'Farm,Tag,Mob,Treated on,EPG pre,EPG post\nCarr End,1,W,3/5/2031,450,0\nCarr End,2,W,3/5/2031,300,50\n';
    await choose(page, file('dates.csv', dated));
    await page.getByRole('heading', { name: 'A question about the table' }).waitFor();
    await page.getByRole('button', { name: /day comes first/i }).click();
    await page.getByLabel('Factor', { exact: true }).fill('50');
    await page.getByRole('button', { name: 'Go on with this factor' }).click();
    await heading(page, /1 group treated, in 1 trial/);
    await page.getByRole('link', { name: 'Other tables or settings' }).click();
    await page.getByRole('button', { name: /^Take back/ }).click();
    await page.getByRole('heading', { name: 'A question about the table' }).waitFor();
  },

  async 'the tables\' names alone are kept, and the page says so'(page) {
    await choose(page, file('years.csv', years));
    await heading(page, 'Many farms: 4 groups treated, in 4 trials');
    await page.reload();
    await page.getByText('The result is not kept: choose the tables again.').waitFor();
    await page.getByText('Last time: years.csv.').waitFor();
    assert.equal(await page.evaluate(() => JSON.stringify({ ...localStorage }).includes('albendazole')), false);
  },

  async 'a large table shows how far it is, and can be stopped'(page) {
    const large = table(Array.from({ length: 3000 }, (_, i) => test(`farm ${i}`, 2030, i % 3 ? 1 : 40, ',15')), ',factor');
    assert.ok(large.length > 2 ** 20);
    await choose(page, file('large.csv', large));
    const bar = page.locator('progress:visible');
    const end = Date.now() + 20_000;
    while (Date.now() < end && !(await bar.evaluate(each => each.value) > 0.05)) await page.waitForTimeout(50);
    assert.ok(await bar.evaluate(each => each.value) > 0.05);
    await page.getByRole('button', { name: 'Stop' }).and(page.locator(':visible')).click();
    await page.getByText('Stopped: nothing was counted.').waitFor();
  },
});
