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
const says = (page, text) =>
  page.locator('#announcer').filter({ hasText: text }).waitFor({ state: 'attached' });
const asks = (page, text) => page.getByRole('alert').filter({ hasText: text }).waitFor();
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

const egg = (page, kind = 'strongyle-type') => button(page, kind);

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
  const [header, ...rows] = read.counts.trim().split(/\r?\n/).map(line => line.split(','));
  const animals = Object.fromEntries(rows.map(row =>
    [row[header.indexOf('animal')], Object.fromEntries(header.map((head, position) => [head, row[position]]))]));
  return { name, text, animals, groups: read.groups };
}

const toTable = (page) => page.getByRole('link', { name: 'Table and saving' }).click();
const row = (page, animal) => page.getByRole('row').filter({ has: button(page, animal) });

await run({
  'set up a count': async (page, look) => {
    await page.setViewportSize(phone);
    await open(page);
    await look('empty');
    await page.getByRole('link', { name: 'Set up a count' }).click();
    await button(page, 'Start counting').click();
    await page.getByText('Found no name; expected one, such as Hill paddock May 2031.').waitFor();
    assert.equal(await page.evaluate(() => document.activeElement.name), 'trial');
    await page.getByLabel('Tags of its animals').fill('401, 402, 401');
    await button(page, 'Start counting').click();
    await page.getByText('Found 401 twice in this group; expected each tag once.').waitFor();
    await look('wrong');

    await page.getByLabel('Name of this trial').fill('Hill paddock');
    await page.getByLabel('Name of the group').fill('white');
    await page.getByLabel('Tags of its animals').fill('');
    await page.getByText('Number them in a row').click();
    await page.getByLabel('First number').fill('9');
    await page.getByLabel('How many animals').fill('3');
    await button(page, 'Write these numbers').click();
    assert.equal(await page.getByLabel('Tags of its animals').inputValue(), '9\n10\n11');

    await page.getByText('Work the factor out').click();
    await page.getByLabel('Faeces, g').fill('4');
    await page.getByLabel('Liquid, mL').fill('56');
    await page.getByLabel('Chambers counted').fill('3');
    await page.getByLabel('One chamber holds, mL').fill('0,15');
    await page.getByText('one egg seen stands for 33.33 EPG').waitFor();
    await page.getByText('Counted: 0.45 mL of 60 mL.').waitFor();
    await page.getByText('may still hold up to 99.9 EPG, one time in twenty').waitFor();
    await page.getByLabel('These mL are').selectOption('totalMl');
    await page.getByText('Counted: 0.45 mL of 56 mL.').waitFor();
    await look('calculator');
    await page.getByLabel('Liquid, mL').fill('3');
    await asks(page, 'is less than the 4 g of faeces');
    await page.getByLabel('Liquid, mL').fill('60');
    await button(page, 'Use this factor').click();
    assert.equal(await page.getByLabel('Factor, EPG for one egg seen').inputValue(), '33.33333333');
    assert.equal(await page.getByLabel('Chambers of one sample').inputValue(), '3');

    // What was typed is there after the tab was closed, and the way on leads to it.
    await page.reload();
    assert.equal(await page.getByLabel('Tags of its animals').inputValue(), '9\n10\n11');
    await page.getByRole('link', { name: 'Count eggs' }).click();
    await page.getByRole('link', { name: 'Go on setting up a count' }).click();
    await button(page, 'Start counting').click();
    await heading(page, 'Sample 1 of 3: 9');
    // Back leads to the count, and not to a form that is done with.
    await page.goBack();
    await heading(page, 'Hill paddock');
  },

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
    await asks(page, 'No egg in chamber 2 of sample 401?');
    // The tap that asked cannot answer as well, and an egg is the other answer.
    await button(page, 'Yes, no egg').click();
    await look('question');
    await taps(page, 1);
    assert.equal(await page.getByRole('alert').count(), 0);
    await button(page, 'Undo').click();
    await button(page, 'Finish chamber 2').click();
    await page.waitForTimeout(450);
    await button(page, 'Yes, no egg').click();
    await heading(page, 'Sample 2 of 6: 402');
    await says(page, 'Sample 401: 3 strongyle-type. Next: 402, chamber 1.');
    // Undo goes back over the end of a sample, chamber by chamber.
    await button(page, 'Undo').click();
    await heading(page, 'Sample 1 of 6: 401');
    await page.getByText('Chamber 2 of 2').waitFor();
    await button(page, 'Undo').click();
    await page.getByText('Chamber 1 of 2').waitFor();
    await egg(page).filter({ hasText: '3' }).waitFor();
    await button(page, 'Finish chamber 1').click();
    await taps(page, 2);
    await button(page, 'Finish chamber 2').click();

    await button(page, 'Not sampled').click();
    await asks(page, 'Was 402 not sampled? That is not the same as no egg.');
    await page.waitForTimeout(450);
    await button(page, 'Yes, not sampled').click();
    await heading(page, 'Sample 3 of 6: 403');
    await toTable(page);
    await heading(page, 'Hill paddock');
    await page.getByText('1 of 6 counted, 1 not sampled, 4 to go').waitFor();
    assert.match(await row(page, '401').innerText(), /401\s+3\s+2\s+5\s+counted/);
    assert.match(await row(page, '402').innerText(), /^402\s+not sampled$/);
    await look('table');
    const { name, animals, text, groups } = await savedCounts(page);
    assert.equal(name, 'Hill-paddock.csv');
    assert.match(text, /^\uFEFFtrial,group,animal,role,/);
    assert.match(text, /Hill paddock,white,401,treated,,,,3,2,100,,\n/);
    assert.deepEqual([animals[401].eggs_before, animals[401].factor_before], ['5', '50']);
    assert.equal(animals[402].eggs_before, '');
    assert.deepEqual(groups.map(group => [group.trial, group.name, group.treated, group.animals]),
      [['Hill paddock', 'white', true, 3], ['Hill paddock', 'keepers', false, 3]]);
  },

  'a count by keys alone': async (page, look) => {
    await setUp(page, { 'Eggs told apart from them, if any': 'nematodirus' });
    await press(page, ['Space', '1', 'Space', '2', '2', 'u', 'Enter']);
    await says(page, 'Chamber 1 of sample 401 finished: 3 strongyle-type, 1 nematodirus. Now chamber 2.');
    await page.waitForTimeout(450);
    await press(page, ['0']);
    await heading(page, 'Sample 2 of 6: 402');
    await press(page, ['0']); // too soon to be meant
    await says(page, 'Pressed twice at once');
    await look('kinds');
    await press(page, ['n']);
    await page.waitForTimeout(450);
    await press(page, ['Enter']); // "Yes, no egg" has the focus
    await page.getByText('Chamber 2 of 2').waitFor();
    await press(page, ['Space', 'Backspace', 'Space', '0']);
    await says(page, 'This chamber has eggs: 1 strongyle-type, 0 nematodirus');
    await press(page, ['n']);
    await heading(page, 'Sample 3 of 6: 403');

    // A key held down is one egg, and a big button that has the focus takes Space and Enter itself.
    await page.keyboard.down('Space');
    await page.keyboard.down('Space');
    await page.keyboard.down('Space');
    await page.keyboard.up('Space');
    await egg(page, 'nematodirus').focus();
    await press(page, ['Space', 'Enter']);
    await egg(page, 'strongyle-type').filter({ hasText: '1' }).waitFor();
    await egg(page, 'nematodirus').filter({ hasText: '2' }).waitFor();

    // The table's keys are those of any page: a tag is a button, and the count goes on there.
    await button(page, '503').focus();
    await press(page, ['Enter']);
    await heading(page, 'Sample 6 of 6: 503');
    await press(page, ['Space', 'n', '2', 'n']);
    await heading(page, 'Sample 3 of 6: 403');
    await page.getByLabel('Count by keys').uncheck();
    await page.getByRole('heading', { name: 'Sample 3' }).click();
    await press(page, ['1', '1']);
    await egg(page, 'strongyle-type').filter({ hasText: '1' }).waitFor();
    await toTable(page);
    await page.getByText('Begun and not finished: 403.').waitFor();
    const { animals, text } = await savedCounts(page);
    assert.match(text, /eggs_before,eggs_before:nematodirus,factor_before,/);
    assert.deepEqual([animals[401].eggs_before, animals[401]['eggs_before:nematodirus'], animals[401].factor_before],
      ['3', '1', '50']);
    assert.deepEqual([animals[402].eggs_before, animals[402]['eggs_before:nematodirus']], ['1', '0']);
    assert.deepEqual([animals[403].eggs_before, animals[403]['eggs_before:nematodirus']], ['', '']);
    assert.deepEqual([animals[503].eggs_before, animals[503]['eggs_before:nematodirus']], ['1', '1']);
  },

  'a tab closed in the middle': async (page) => {
    await page.setViewportSize(phone);
    await setUp(page);
    await taps(page, 3);
    await button(page, 'Finish chamber 1').click();
    await taps(page, 2);
    await page.reload(); // the very last tap is kept
    await heading(page, 'Sample 1 of 6: 401');
    await page.getByText('Chamber 2 of 2').waitFor();
    await egg(page).filter({ hasText: '2' }).waitFor();
    // What was done before the tab was closed can still be undone.
    for (let i = 0; i < 3; ++i) await button(page, 'Undo').click();
    await page.getByText('Chamber 1 of 2').waitFor();
    await egg(page).filter({ hasText: '3' }).waitFor();
    await page.goBack();
    await heading(page, 'Hill paddock');
    await page.getByRole('link', { name: 'Go on with 401' }).waitFor();
  },

  'back, mend, count again': async (page, look) => {
    await page.setViewportSize(phone);
    await setUp(page, { 'Chambers of one sample': '1' });
    for (const eggs of [5, 2, 1, 1, 1, 1]) {
      await taps(page, eggs);
      await button(page, 'Finish sample').click();
    }
    await page.getByText('6 of 6 counted').waitFor();
    await page.getByLabel('Go to sample').selectOption({ label: '1. 401' });
    await heading(page, 'Sample 1 of 6: 401');
    // A finished sample takes no egg by accident, and says so.
    assert.equal(await egg(page).count(), 0);
    await page.keyboard.press('Space');
    await says(page, 'Sample 401 is finished: this egg is not counted.');
    await look('finished sample');
    await button(page, 'Mend chamber 1 (5)').click();
    await button(page, 'Undo').click();
    await button(page, 'Finish sample').click();
    await says(page, 'Sample 401: 4 strongyle-type.');
    await page.getByLabel('Go to sample').selectOption({ label: '2. 402' });
    await button(page, 'Count it again from 0').click();
    await taps(page, 3);
    await button(page, 'Finish sample').click();
    await toTable(page);
    await page.getByText('Counted again, the last count stands: 402 (was 2).').waitFor();
    const { animals } = await savedCounts(page);
    assert.deepEqual([animals[401].eggs_before, animals[402].eggs_before], ['4', '3']);
  },

  'told at a number of eggs, and a sample ended there': async (page, look) => {
    await page.setViewportSize(phone);
    await setUp(page, { 'Tell me when a sample reaches, eggs': '10', 'Chambers of one sample': '3' });
    await button(page, 'Sound: off').click();
    await button(page, 'Sound: on').waitFor();
    await taps(page, 9);
    await page.waitForTimeout(1600);
    await taps(page, 1);
    await says(page, '10 eggs reached in sample 401. To stop here, finish this chamber first');
    await look('reached');
    await taps(page, 1);
    assert.equal(await button(page, 'End sample').count(), 0);
    await button(page, 'Finish chamber 1').click();
    await taps(page, 1);
    await button(page, 'End sample').click();
    await asks(page, 'End sample 401 with 1 of 3 chambers? 1 egg of this chamber');
    await page.waitForTimeout(450);
    await button(page, 'Yes, end it').click();
    await heading(page, 'Sample 2 of 6: 402');
    await toTable(page);
    await page.getByText('Fewer chambers than the 3 of a sample: 401.').waitFor();
    assert.match(await row(page, '401').innerText(), /1 of 3 chambers/);
    const { animals } = await savedCounts(page);
    // One chamber of three: each egg stands for three times as much.
    assert.deepEqual([animals[401].eggs_before, animals[401].factor_before], ['11', '150']);
  },

  'numbers are read out, not in a flood': async (page) => {
    await setUp(page);
    await page.evaluate(() => {
      globalThis.readOut = [];
      new MutationObserver(() => readOut.push(document.getElementById('announcer').textContent))
        .observe(document.getElementById('announcer'), { childList: true });
    });
    for (let i = 0; i < 40; ++i) {
      await page.keyboard.press('Space');
      await page.waitForTimeout(65);
    }
    await says(page, '40 strongyle-type');
    const words = (await page.evaluate(() => readOut)).filter(text => /^\d+ strongyle-type$/.test(text));
    assert.ok(words.length >= 2 && words.length <= 5, words.join());
  },

  'before and after in one table, and on to the judge': async (page, look) => {
    await page.addInitScript(() => {
      const { setItem } = Storage.prototype;
      globalThis.handedOver = [];
      Storage.prototype.setItem = function (key, value) {
        if (key === 'eggfall.handover') handedOver.push(JSON.parse(value));
        setItem.call(this, key, value);
      };
    });
    await page.reload();
    await setUp(page, { 'Chambers of one sample': '1', 'Factor, EPG for one egg seen': '' });
    await toTable(page);
    await button(page, 'Judge this trial').click();
    await asks(page, 'Nothing has been counted yet.');
    await page.getByRole('link', { name: 'Begin with 401' }).click();
    for (const eggs of [5, 9, 7, 4, 6, 8]) await press(page, [...Array(eggs).fill('Space'), 'n']);
    await page.getByRole('link', { name: 'All samples are done: to the table' }).waitFor();
    await toTable(page);
    await button(page, 'Judge this trial').click();
    await asks(page, 'The factor before treatment is missing.');
    await page.getByRole('link', { name: 'Change the set-up' }).click();
    await heading(page, 'Change the set-up of Hill paddock');
    await look('change');
    await page.getByLabel('Factor, EPG for one egg seen').fill('50');
    await button(page, 'Keep these changes').click();
    await heading(page, 'Hill paddock');
    await button(page, /^After treatment/).click();
    await page.getByLabel('Chambers of one sample').fill('2');
    await page.getByLabel('Factor, EPG for one egg seen').fill('25');
    await look('after');
    await button(page, 'Count after treatment').click();
    await heading(page, 'Sample 1 of 6: 401');
    for (const eggs of [1, 2, 1, 3, 5, 7]) {
      await press(page, [...Array(eggs).fill('Space'), 'n']);
      await page.waitForTimeout(420);
      await press(page, ['0']);
    }
    await toTable(page);
    const { animals, text } = await savedCounts(page);
    assert.match(text, /,eggs_before,factor_before,eggs_after_1,eggs_after_2,factor_after\n/);
    assert.deepEqual([animals[403].eggs_before, animals[403].factor_before, animals[403].eggs_after, animals[403].factor_after],
      ['7', '50', '1', '25']);
    await button(page, 'Judge this trial').click();
    await page.waitForURL(/#judge/);
    const [handed] = await page.evaluate(() => handedOver);
    assert.deepEqual(handed, { name: 'Hill-paddock.csv', text: text.replace(/^\uFEFF/, '') });
    const judged = eggfall.analyse(handed.text,
      { name: handed.name, host: 'sheep', wanted: ['analysis.json'] });
    assert.ok(judged.ok, JSON.stringify(judged.problems));
    const [group] = JSON.parse(judged.json).trials[0].groups;
    assert.deepEqual([group.group, group.eggs_before, group.eggs_after], ['white', 21, 4]);
    // The other room takes it, and asks for what a count does not know.
    await page.getByText('Handed over by another room of this page.').waitFor();
    await page.frameLocator('iframe[title="Report"]').getByRole('heading', { level: 1 }).first().waitFor();
    assert.equal(await page.evaluate(() => localStorage.getItem('eggfall.handover')), null);
    await page.goBack();
    await heading(page, 'Hill paddock');
  },

  'a counts table of the yard sheets brought in': async (page, look) => {
    await page.setViewportSize(phone);
    const sheets = eggfall.sheets({ host: 'sheep', animals: 3, toldApart: ['nematodirus'],
      bench: { faecesG: 4, addedMl: 56, chambers: 2, chamberMl: 0.15, chambersAfter: 6 },
      groups: [{ name: 'white', drench: 'ivermectin', classes: 'ML', labelMlPerKg: 0.2 },
        { name: 'keepers', untreated: true }] });
    await open(page);
    await page.getByRole('link', { name: 'Set up a count' }).click();
    await page.getByText('A table or a list').click();
    await page.getByLabel('A file (CSV, .xlsx, .ods)').setInputFiles(
      { name: 'sheets.csv', mimeType: 'text/csv', buffer: Buffer.from(sheets.counts) });
    await page.getByText('6 animals from sheets.csv, in its order.').waitFor();
    assert.equal(await page.getByLabel('Name of the group').nth(0).inputValue(), 'white');
    assert.equal(await page.getByLabel('These animals were').nth(1).inputValue(), 'control');
    assert.equal(await page.getByLabel('Eggs told apart from them, if any').inputValue(), 'nematodirus');
    assert.equal(await page.getByLabel('Factor, EPG for one egg seen').inputValue(), '50');
    await page.getByLabel('Those taken after treatment').check();
    assert.equal(await page.getByLabel('Factor, EPG for one egg seen').inputValue(), '16.66666667');
    await page.getByLabel('Those taken before treatment').check();
    await page.getByLabel('Name of this trial').fill('Low field');
    await page.getByLabel('Chambers of one sample').fill('1');
    await look('brought');
    await button(page, 'Start counting').click();
    await heading(page, 'Sample 1 of 6: 1');
    // Who counts does not see the group, unless they want to.
    assert.equal(await page.getByText('white').count(), 0);
    await taps(page, 2);
    await taps(page, 1, 'nematodirus');
    await button(page, 'Finish sample').click();
    await toTable(page);
    await page.getByLabel('Show the groups').check();
    assert.match(await row(page, '1').innerText(), /1\s+white\s+2\s+1\s+counted/);
    const { animals, text, groups } = await savedCounts(page);
    assert.match(text, /label_ml_per_kg/);
    assert.deepEqual([animals[1].eggs_before, animals[1]['eggs_before:nematodirus'], animals[1].drench],
      ['2', '1', 'ivermectin']);
    assert.deepEqual(groups.map(group => [group.name, group.treated, group.classes.join(), group.host]),
      [['white', true, 'ML', 'sheep'], ['keepers', false, '', 'sheep']]);

    // The saved table, taken to another device, holds the first counts while the second are made.
    await page.getByRole('link', { name: 'All counts' }).click();
    await page.getByRole('link', { name: 'Set up a count' }).click();
    await page.getByText('A table or a list').click();
    await page.getByLabel('A file (CSV, .xlsx, .ods)').setInputFiles(
      { name: 'Low-field.csv', mimeType: 'text/csv', buffer: Buffer.from(text) });
    await page.getByText('It holds counts before treatment of 1; they are kept.').waitFor();
    await page.getByLabel('Those taken after treatment').check();
    await page.getByLabel('Name of this trial').fill('Low field again');
    await page.getByLabel('Chambers of one sample').fill('1');
    await page.getByLabel('Factor, EPG for one egg seen').fill('10');
    await button(page, 'Start counting').click();
    await taps(page, 4);
    await button(page, 'Finish sample').click();
    await toTable(page);
    const joined = await savedCounts(page);
    assert.deepEqual([joined.animals[1].eggs_before, joined.animals[1].factor_before, joined.animals[1].eggs_after,
      joined.animals[1].factor_after, joined.animals[1]['eggs_before:nematodirus']], ['2', '50', '4', '10', '1']);
    await button(page, /^Before treatment/).click();
    assert.match(await row(page, '1').innerText(), /2\s+1\s+brought in/);
  },

  'lists that are pasted': async (page) => {
    await open(page);
    await page.getByRole('link', { name: 'Set up a count' }).click();
    await page.getByText('A table or a list').click();
    await page.getByLabel('Or paste a table here').fill('nonsense\n1\n2\n');
    await button(page, 'Use what is pasted').click();
    await asks(page, 'pasted.csv');
    await page.getByLabel('Or paste a table here').fill('animal,group\n7,blue\n8,red\n7,blue\n');
    await button(page, 'Use what is pasted').click();
    await asks(page, 'Found 7 twice in group blue');
    // A column of earlier counts, of one day alone: its animals can be had without them.
    await page.getByLabel('Or paste a table here')
      .fill('Tag\tMob\tEPG\n7\tblue\t100\n8\tred\t250\n9\tblue\t\n');
    await button(page, 'Use what is pasted').click();
    await button(page, 'Take only its animals, not its counts').click();
    await page.getByText('3 animals from pasted.csv').waitFor();
    assert.equal(await page.getByLabel('Name of the group').nth(1).inputValue(), 'red');
    await button(page, 'Take another table, or type').click();
    assert.equal(await page.getByLabel('Tags of its animals').inputValue(), '');
  },

  'several counts, one deleted and brought back': async (page, look) => {
    await setUp(page);
    await taps(page, 2);
    await page.goBack();
    await page.getByRole('link', { name: 'All counts' }).click();
    await page.getByRole('link', { name: 'Set up a count' }).click();
    await heading(page, 'Set up a count');
    await page.goBack();
    await page.getByText('6 animals: before treatment 0 of 6.').waitFor();
    await look('list');
    page.once('dialog', dialog => dialog.dismiss());
    await button(page, 'Delete Hill paddock').click();
    await page.getByRole('link', { name: 'Hill paddock' }).waitFor();
    page.once('dialog', dialog => dialog.accept());
    await button(page, 'Delete Hill paddock').click();
    await page.getByText('Deleted: Hill paddock.').waitFor();
    assert.equal(await page.getByRole('link', { name: 'Hill paddock' }).count(), 0);
    await button(page, 'Bring it back').click();
    await page.getByRole('link', { name: 'Hill paddock' }).click();
    await page.getByText('Begun and not finished: 401.').waitFor();
  },

  'a browser that keeps no more says so': async (page) => {
    await page.setViewportSize(phone);
    await setUp(page);
    await page.evaluate(() => { Storage.prototype.setItem = () => { throw new Error('full'); }; });
    await taps(page, 1);
    await page.getByText('This browser keeps no more: what you count now is lost').waitFor();
    await egg(page).filter({ hasText: '1' }).waitFor();
  },

  'one tag in two groups': async (page) => {
    await setUp(page);
    await toTable(page);
    await page.getByRole('link', { name: 'Change the set-up' }).click();
    await page.getByLabel('Further animals').nth(1).fill('401');
    await button(page, 'Keep these changes').click();
    await button(page, '401 (keepers)').click();
    await heading(page, 'Sample 7 of 7: 401 (keepers)');
  },

  'chambers that change take the factor with them': async (page) => {
    await setUp(page);
    await toTable(page);
    await page.getByRole('link', { name: 'Change the set-up' }).click();
    await page.getByLabel('Chambers of one sample').fill('4');
    let asked = '';
    page.once('dialog', dialog => { asked = dialog.message(); return dialog.dismiss(); });
    await button(page, 'Keep these changes').click();
    assert.match(asked, /change from 2 to 4, and the factor of all of them stays 50\..* it would be 25\./);
    await page.getByLabel('Factor, EPG for one egg seen').fill('25');
    await button(page, 'Keep these changes').click();
    await page.getByRole('link', { name: 'Begin with 401' }).click();
    await page.getByText('Chamber 1 of 4').waitFor();
  },

  'a kind of egg that came later': async (page) => {
    await setUp(page, { 'Chambers of one sample': '1' });
    await press(page, ['Space', 'n']);
    await toTable(page);
    await page.getByRole('link', { name: 'Change the set-up' }).click();
    await page.getByLabel('Further eggs told apart').fill('nematodirus');
    await page.getByLabel('Further animals').first().fill('404');
    await button(page, 'Keep these changes').click();
    await page.getByRole('link', { name: 'Go on with 402' }).click();
    await press(page, ['Space', 'n']);
    await toTable(page);
    await page.getByText('Counted before nematodirus had a button: 401.').waitFor();
    const { animals } = await savedCounts(page);
    // Not looked for is not the same as none.
    assert.deepEqual([401, 402, 404].map(tag => animals[tag]['eggs_before:nematodirus']), ['', '0', '']);
  },
});
