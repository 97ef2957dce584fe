// Judge a trial, as its users do: files, pasted cells and typing, questions and reports.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { run, frameOf, saved } from './as_a_user.mjs';

const example = (name) => new URL(`../../examples/${name}`, import.meta.url).pathname;
const workbook = (name) => new URL(`../workbooks/${name}`, import.meta.url).pathname;

const choose = (page, ...files) => page.getByLabel('Choose a file').setInputFiles(files);
const chooseText = (page, name, text) =>
  page.getByLabel('Choose a file').setInputFiles({ name, mimeType: 'text/csv', buffer: Buffer.from(text) });

/// What the report's first page says of a group.
const verdict = (page, group) =>
  frameOf(page, 'Report').locator('.farmer > .strip > li', { has: page.getByText(`${group}: `, { exact: true }) });
const says = async (page, group, words) =>
  verdict(page, group).filter({ hasText: words }).waitFor({ timeout: 20_000 });

const cell = (page, column, row) => page.getByRole('textbox', { name: `${column}, row ${row}`, exact: true });

/// As Ctrl+V does, which needs a clipboard that a browser without a window does not have.
const paste = (locator, text) => locator.evaluate((element, pasted) => {
  const clipboardData = new DataTransfer();
  clipboardData.setData('text/plain', pasted);
  element.dispatchEvent(new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }));
}, text);

async function drop(page, name, text) {
  const data = await page.evaluateHandle(([fileName, content]) => {
    const transfer = new DataTransfer();
    transfer.items.add(new File([content], fileName));
    return transfer;
  }, [name, text]);
  await page.dispatchEvent('main h2', 'drop', { dataTransfer: data });
}

const ofTheReport = (page, words) => frameOf(page, 'Report').getByText(words).first();

/// Ten treated animals whose counts fell by nine tenths; `more` is put behind each line.
const tenAnimals = (head, more) => [`group,animal,eggs_before,eggs_after${head}`,
  ...Array.from({ length: 10 }, (_, i) => `lambs,${i + 1},${31 + 7 * i},${3 + (i % 3)}${more}`)].join('\n');

run({
  async 'the invented trial at once'(page) {
    const opened = Date.now();
    await page.reload();
    await page.getByRole('button', { name: 'Try it with an invented trial' }).click();
    await says(page, 'white drench', 'Failing');
    console.log(`   verdict ${Date.now() - opened} ms after the page was asked for`);
    await says(page, 'clear drench', 'Works');
    await says(page, 'yellow drench', 'Can\'t tell yet');
    // The forecasts of a repeat come later, in place of the first answer.
    await page.locator('#announcer').filter({ hasText: 'what a repeat of the test would show' }).waitFor({ state: 'attached' });
  },

  async 'a forecast that is stopped'(page) {
    // Each of so many groups without a clear answer takes some tenths of a second.
    const rows = Array.from({ length: 200 }, (_, i) =>
      `drench ${Math.floor(i / 10) + 1},${i + 1},${6 + i % 10},${i % 5 === 0 ? 3 : 0},50,BZ,sheep`);
    await chooseText(page, 'many.csv', `group,animal,eggs_before,eggs_after,factor,class,host\n${rows.join('\n')}`);
    await page.getByText('A first answer is shown.').first().waitFor();
    await frameOf(page, 'Report').getByText('drench 20').first().waitFor();
    await page.getByRole('button', { name: 'Stop' }).and(page.locator(':visible')).click();
    await page.getByText('Stopped: this report does not tell what a repeat of the test would show.').waitFor();
    const button = page.getByRole('button', { name: 'Results CSV' });
    assert.equal((await saved(page, () => button.click())).bytes.toString().includes('many,drench 20,'), true);
  },

  async 'a dropped file'(page) {
    await drop(page, 'combination.csv', readFileSync(example('combination.csv'), 'utf8'));
    await page.getByRole('heading', { name: 'combination' }).waitFor();
    await says(page, 'white', 'Failing');
  },

  async 'a workbook, and what can be kept'(page) {
    await choose(page, workbook('brackenhill.xlsx'));
    await says(page, 'white drench', 'Failing');
    const kept = async (name) => {
      const button = page.getByRole('button', { name });
      await button.and(page.locator(':enabled')).waitFor();
      return saved(page, () => button.click());
    };
    const report = await kept('Save report (HTML)');
    assert.equal(report.name, 'brackenhill-report.html');
    assert.match(report.bytes.toString(), /<h1>Do the drenches still work/);
    const letter = await kept('Letter to edit (.docx)');
    assert.equal(letter.name, 'brackenhill-letter.docx');
    assert.equal(letter.bytes.subarray(0, 2).toString(), 'PK');
    assert.match((await kept('Letter to print (HTML)')).bytes.toString(), /What to do:/);
    const results = await kept('Results workbook (.xlsx)');
    assert.equal(results.name, 'brackenhill-results.xlsx');
    assert.equal(results.bytes.subarray(0, 2).toString(), 'PK');
    assert.equal(JSON.parse((await kept('Results JSON')).bytes).trials[0].groups[0].group, 'white drench');
    assert.match((await kept('Results CSV')).bytes.toString(), /^trial,group,/);
    const counts = await kept('Counts table CSV');
    assert.match(counts.bytes.toString(), /^group,animal,/);
    // What the page wrote it reads.
    await page.getByRole('link', { name: 'All trials, or another table' }).click();
    await choose(page, { name: 'again.csv', mimeType: 'text/csv', buffer: counts.bytes });
    await page.getByRole('heading', { name: 'again' }).waitFor();
    await says(page, 'white drench', 'Failing');
  },

  async 'a laboratory\'s sheet'(page, look) {
    await choose(page, example('lab-sheet.csv'));
    await page.getByRole('heading', { name: /How many eggs per gram/ }).waitFor();
    await look('factor');
    await page.getByRole('button', { name: 'Go on with this factor' }).click();
    await page.getByText('Found nothing; expected a number above 0, such as 50.').waitFor();
    await page.getByLabel('Factor', { exact: true }).fill('50');
    await page.keyboard.press('Enter');
    await page.getByText('"<50" is taken for no egg seen in 12 cells').first().waitFor();
    await says(page, 'Ivermectin', 'Can\'t tell yet');
    await page.getByLabel('Kind of animal').selectOption('sheep');
    // The drenches' names tell their classes, which are asked no more.
    assert.equal(await page.getByLabel('Drug class of "Ivermectin"').count(), 0);
    await says(page, 'Levamisole', 'Works, but take care');
    await ofTheReport(page, 'host of "Ivermectin" given in the page: sheep').waitFor({ state: 'attached' });
    // Each answer can be taken back.
    await page.getByLabel('Kind of animal').selectOption('not known');
    await says(page, 'Levamisole', 'Can\'t tell yet');
  },

  async 'the factor from the bench'(page) {
    await chooseText(page, 'ten.csv', tenAnimals('', ''));
    await page.getByText('Work it out from what was weighed and counted').click();
    for (const [label, figure] of [['Faeces, g', '3'], ['Liquid, mL', '42'], ['Chambers counted', '2'],
      ['One chamber holds, mL', '0.15']])
      await page.getByLabel(label).fill(figure);
    await page.getByRole('button', { name: 'Use this factor' }).click();
    assert.equal(await page.getByLabel('Factor', { exact: true }).inputValue(), '50');
    await page.getByRole('button', { name: 'Go on with this factor' }).click();
    await page.getByText('One egg seen stands for 50 EPG').waitFor();
    await page.getByRole('button', { name: 'Take back: One egg seen stands for 50 EPG' }).click();
    await page.getByRole('heading', { name: /How many eggs per gram/ }).waitFor();
  },

  async 'questions, and answers taken back'(page, look) {
    await chooseText(page, 'dash.csv', 'mob,tag,before,after\nA,1,500,50\nA,2,900,0\nA,3,900,-\n');
    await page.getByLabel('Factor', { exact: true }).fill('50');
    await page.getByRole('button', { name: 'Go on with this factor' }).click();
    const noSample = page.getByRole('button', { name: '"-" means that there was no sample' });
    await noSample.waitFor();
    await look('asked');
    await noSample.click();
    await page.getByText('How it was read: 3 animals in 1 group').waitFor();
    assert.equal(await cell(page, 'eggs after', 3).inputValue(), '');
    await page.getByRole('button', { name: 'Take back: "-" means that there was no sample' }).click();
    await page.getByRole('button', { name: '"-" means that no egg was seen' }).click();
    await page.getByText('How it was read: 3 animals in 1 group').waitFor();
    assert.equal(await cell(page, 'eggs after', 3).inputValue(), '0');
  },

  async 'several days after treatment are visits'(page) {
    await chooseText(page, 'days.csv', ['mob,tag,day,epg', ...[1, 2, 3].flatMap((tag) =>
      [[0, 500 + 50 * tag], [14, 0], [28, 100]].map(([day, epg]) => `A,${tag},${day},${epg}`))].join('\n'));
    await page.getByLabel('Factor', { exact: true }).fill('50');
    await page.keyboard.press('Enter');
    await page.getByText('How it was read: 3 animals in 1 group').waitFor();
    assert.match(await page.locator('body').textContent(), /visits on day 14 .* day 28/);
  },

  async 'other times than those offered'(page) {
    await chooseText(page, 'samples.csv', ['mob,tag,day,epg', ...[1, 2, 3].flatMap((tag) =>
      [[-7, 500 + 50 * tag], [0, 600], [14, 100]].map(([day, epg]) => `A,${tag},${day},${epg}`))].join('\n'));
    const factor = page.getByLabel('Factor', { exact: true });
    const other = page.getByText('Neither: another answer');
    await factor.or(other).first().waitFor();
    if (await factor.isVisible()) {
      await factor.fill('50');
      await page.keyboard.press('Enter');
    }
    await other.click();
    await page.getByLabel('The time after treatment, as the table has it').fill('14');
    await page.keyboard.press('Enter');
    if (await factor.waitFor({ timeout: 2000 }).then(() => true, () => false)) {
      await factor.fill('50');
      await page.keyboard.press('Enter');
    }
    await page.getByText('How it was read: 3 animals in 1 group').waitFor();
    assert.equal(await cell(page, 'eggs after', 1).inputValue(), '2');
  },

  async 'a column whose head must be told'(page) {
    await chooseText(page, 'rows.csv', 'mob,x,day,epg\nA,1,0,500\nA,2,0,600\nA,1,14,50\nA,2,14,0\n');
    const head = page.getByLabel('The head of the column that names them');
    const factor = page.getByLabel('Factor', { exact: true });
    await head.or(factor).first().waitFor();
    await head.fill('x');
    await page.getByRole('button', { name: 'Answer this' }).click();
    await factor.fill('50');
    await page.keyboard.press('Enter');
    await page.getByText('How it was read: 2 animals in 1 group').waitFor();
    await page.getByText('"x" is animal').waitFor();
  },

  async 'which group was left untreated'(page) {
    await chooseText(page, 'role.csv', `${tenAnimals(',factor', ',50')}\ncontrol,a,30,31,50\ncontrol,b,40,38,50\n`);
    await page.getByRole('button', { name: '"control" was left untreated' }).click();
    await page.locator('td', { hasText: /^untreated$/ }).waitFor({ state: 'attached' });
    await page.getByText('"control" was left untreated').first().waitFor();
  },

  async 'a trial typed by keyboard alone'(page, look) {
    const tabTo = async (name) => {
      for (let i = 0; i < 60; i += 1) {
        await page.keyboard.press('Tab');
        if (await page.evaluate((wanted) => (document.activeElement.textContent || document.activeElement.ariaLabel ||
          document.activeElement.labels?.[0]?.textContent || '').trim() === wanted, name)) return;
      }
      assert.fail(`no ${name} was reached with the tabulator`);
    };
    await tabTo('Type the counts in');
    await page.keyboard.press('Enter');
    await look('empty');
    await page.getByRole('heading', { name: 'typed counts' }).waitFor();
    await page.locator(':focus').and(cell(page, 'animal', 1)).waitFor();
    const type = async (...cells) => {
      for (const [index, text] of cells.entries()) {
        if (index) await page.keyboard.press('Tab');
        await page.keyboard.type(text);
      }
      await page.keyboard.press('Enter');
    };
    await type('1', 'lambs', '31', '30');
    for (let i = 2; i <= 14; i += 1) await type(String(i), '', String(25 + 3 * i), String(23 + ((i * i) % 17)));
    assert.equal(await cell(page, 'group', 14).inputValue(), 'lambs', 'a row takes the group of the row above');
    await page.keyboard.press('ArrowUp');
    assert.equal(await page.evaluate(() => document.activeElement.ariaLabel), 'animal, row 14');
    await page.keyboard.press('Escape'); // leaves the table
    await tabTo('Judge this trial');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: /How many eggs per gram/ }).waitFor();
    await tabTo('Factor');
    await page.keyboard.type('50');
    await page.keyboard.press('Enter');
    await ofTheReport(page, 'lambs').waitFor();
    // What is missing is gone to before the report.
    await page.locator(':focus').and(page.getByRole('group', { name: 'What the table does not say' })).waitFor();
    await page.keyboard.press('Tab');
    await page.keyboard.press('s');
    await ofTheReport(page, 'Tested in sheep').waitFor();
    await page.locator(':focus').and(page.getByLabel('Kind of animal')).waitFor(); // drawn anew, and not lost
    await page.keyboard.press('Tab');
    await page.keyboard.press('b');
    await says(page, 'lambs', 'Failing');
    assert.equal(await cell(page, 'class', 3).inputValue(), 'BZ');
    await ofTheReport(page, 'typed into the page by hand').waitFor({ state: 'attached' });
    await look('judged');
  },

  async 'mending a cell, and taking it back'(page) {
    await page.getByRole('button', { name: 'Try it with an invented trial' }).click();
    await says(page, 'clear drench', 'Works');
    await page.getByText(/The counts it was taken for/).click();
    await cell(page, 'eggs after', 15).fill('90');
    await cell(page, 'eggs after', 15).press('Enter');
    // A report that is no longer the table's says so at once, and is given to nobody.
    await page.getByText('This report is of the table before your change.').first().waitFor();
    assert.ok(await page.getByRole('button', { name: 'Save report (HTML)' }).isDisabled());
    await says(page, 'clear drench', 'Can\'t tell yet').catch(() => says(page, 'clear drench', 'Failing'));
    await ofTheReport(page, 'mended by hand in the page: animal 415, eggs_after: "0" became "90"').waitFor({ state: 'attached' });
    await cell(page, 'eggs after', 15).focus();
    await page.keyboard.press('Control+z');
    assert.equal(await cell(page, 'eggs after', 15).inputValue(), '0');
    await ofTheReport(page, 'mended by hand in the page').waitFor({ state: 'detached' });
    await says(page, 'clear drench', 'Works');
    await page.getByRole('button', { name: 'Redo' }).click();
    assert.equal(await cell(page, 'eggs after', 15).inputValue(), '90');
    await page.getByRole('button', { name: 'Undo' }).click();
    await cell(page, 'eggs after', 15).focus();
    await page.getByRole('button', { name: 'Delete row' }).click();
    assert.equal(await cell(page, 'animal', 15).inputValue(), '416');
    await page.keyboard.press('Control+z');
    assert.equal(await cell(page, 'animal', 15).inputValue(), '415');
  },

  async 'a cell that nobody can read'(page, look) {
    await chooseText(page, 'slip.csv', tenAnimals(',factor,class,host', ',50,BZ,sheep').replace('lambs,2,38', 'lambs,2,3B'));
    await page.getByText('The table needs mending', { exact: true }).waitFor();
    await page.getByText(/slip.csv: line 3, column "eggs_before": found "3B"; expected a whole number of eggs/).waitFor();
    await look('marked');
    await page.getByRole('button', { name: 'Go to row 3' }).click();
    assert.equal(await page.evaluate(() => document.activeElement.value), '3B');
    await page.keyboard.type('38');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: /^Judge/ }).first().click();
    await ofTheReport(page, 'lambs').waitFor();
    await ofTheReport(page, 'mended by hand in the page').waitFor({ state: 'attached' });
  },

  async 'files that are no tables'(page, look) {
    const png = Buffer.from('89504e470d0a1a0a0000000d49484452', 'hex');
    for (const [name, bytes, words] of [['picture.xlsx', png, 'byte 0x89'], ['empty.csv', Buffer.alloc(0), 'found nothing'],
      ['noise.ods', Buffer.from([0, 1, 2, 255, 254, 7]), 'picture|found']]) {
      await page.getByLabel('Choose a file').setInputFiles({ name, mimeType: 'application/octet-stream', buffer: bytes });
      const alert = page.getByRole('alert').filter({ hasText: 'The table needs mending' });
      await alert.waitFor();
      assert.match(await alert.textContent(), new RegExp(words));
      assert.ok(await alert.evaluate((box) => box === document.activeElement), 'the problem is gone to');
      if (name === 'picture.xlsx') await look('picture');
      await alert.getByRole('link', { name: 'Choose another table' }).click();
      await page.getByText('Drop a table anywhere here').waitFor();
    }
    assert.ok(!await page.getByRole('heading', { name: 'Your trials' }).isVisible(), 'nothing to keep of these');
  },

  async 'five thousand pasted rows'(page) {
    const lines = Array.from({ length: 5000 }, (_, i) =>
      [`mob ${i % 10}`, i + 1, 20 + (i % 30), i % 4, 50, 'BZ', 'sheep'].join('\t'));
    const text = ['group', 'animal', 'eggs_before', 'eggs_after', 'factor', 'class', 'host'].join('\t') + '\n' +
      lines.join('\n');
    await page.getByRole('button', { name: 'Paste from a spreadsheet' }).click();
    const begun = Date.now();
    await paste(page.getByLabel(/Cells copied from a spreadsheet/), text);
    await page.getByText('How it was read: 5000 animals in 10 groups').waitFor();
    const understood = Date.now() - begun;
    console.log(`   5,000 rows understood after ${understood} ms`);
    assert.ok(understood < 3000);
    // The page answers while the engine is at it.
    const answered = Date.now();
    await page.getByText('Heading of the report').click();
    await page.getByLabel('Farm', { exact: true }).waitFor();
    assert.ok(Date.now() - answered < 1000);
    await page.getByText(/The counts it was taken for/).click();
    await cell(page, 'animal', 1).press('Control+End');
    assert.equal(await page.evaluate(() => document.activeElement.ariaLabel), 'factor after, row 5000');
    await page.keyboard.press('PageUp');
    assert.ok(await page.locator('.grid-row').count() < 80, 'only rows in sight are in the document');
    const typing = Date.now();
    await cell(page, 'animal', 5000).fill('last');
    await cell(page, 'animal', 5000).press('ArrowUp');
    assert.ok(Date.now() - typing < 1000, 'typing stays quick');
    await ofTheReport(page, 'mob 9').waitFor();
  },

  async 'a block pasted into the empty table'(page) {
    await page.getByRole('button', { name: 'Type the counts in' }).click();
    const block = Array.from({ length: 20 }, (_, i) => `${i + 1}\tlambs\t${30 + i}\t0`).join('\n');
    await paste(cell(page, 'animal', 1), block);
    assert.equal(await cell(page, 'eggs before', 3).inputValue(), '32');
    await page.getByText('20 rows pasted.').first().waitFor();
    await cell(page, 'host', 1).focus();
    await paste(cell(page, 'host', 1), 'a\tb\tc\n1\t2\t3');
    await page.getByText(/Nothing was pasted: the block is 3 columns wide, and only 2 are left/).waitFor();
    await page.keyboard.press('Control+z');
    assert.equal(await cell(page, 'animal', 1).inputValue(), '');
  },

  async 'counts that look like eggs per gram'(page, look) {
    const rows = Array.from({ length: 10 }, (_, i) => `lambs,${i + 1},${(2 * i + 3) * 50},${(i + 1) * 50},50,BZ,sheep`);
    await chooseText(page, 'units.csv', `group,animal,eggs_before,eggs_after,factor,class,host\n${rows.join('\n')}`);
    await page.getByText('Eggs seen, or eggs per gram?').waitFor();
    await look('asked');
    await page.getByRole('button', { name: 'They are eggs per gram' }).click();
    await page.getByText('Eggs seen, or eggs per gram?').waitFor({ state: 'detached' });
    await says(page, 'lambs', 'Failing');
  },

  async 'counts said to be eggs, and the word taken back'(page) {
    const rows = Array.from({ length: 10 }, (_, i) => `lambs,${i + 1},${(2 * i + 30) * 50},${i === 4 ? 50 : 0},50,BZ,sheep`);
    await chooseText(page, 'units.csv', `group,animal,eggs_before,eggs_after,factor,class,host\n${rows.join('\n')}`);
    await says(page, 'lambs', 'Can\'t tell yet');
    await page.getByRole('button', { name: 'They are eggs seen' }).click();
    await says(page, 'lambs', 'Works, but take care');
    await ofTheReport(page, 'but were said to be eggs seen').waitFor({ state: 'attached' });
    await page.reload();
    await page.getByRole('button', { name: /^Take back: The counts are as the table says/ }).click();
    await page.getByText('Eggs seen, or eggs per gram?').waitFor();
    await says(page, 'lambs', 'Can\'t tell yet');
  },

  async 'an animal\'s kind chosen wrongly is chosen again, also after the page was closed'(page) {
    await chooseText(page, 'kind.csv', 'group,animal,eggs_before,eggs_after,factor,class\n' +
      Array.from({ length: 8 }, (_, i) => `lambs,${i + 1},${2 * i + 31},${i === 4 ? 1 : 0},50,BZ`).join('\n'));
    await page.getByLabel(/kind of animal|Animals/i).first().selectOption('goats');
    await ofTheReport(page, /goats/).waitFor({ state: 'attached' });
    await page.reload();
    await page.getByLabel(/kind of animal|Animals/i).first().selectOption('sheep');
    await ofTheReport(page, /sheep/).waitFor({ state: 'attached' });
  },

  async 'larvae told apart'(page) {
    await choose(page, example('mixed-worms.csv'));
    await ofTheReport(page, 'clear drench').waitFor();
    await page.getByText('Larvae told apart in cultures (optional)').click();
    await page.getByLabel('Choose the larvae table').setInputFiles(example('mixed-worms-larvae.csv'));
    await ofTheReport(page, 'haemonchus').waitFor();
    await page.getByLabel('Choose the larvae table').setInputFiles(
      { name: 'wrong.csv', mimeType: 'text/csv', buffer: Buffer.from('x,y\n1,2\n') });
    await page.getByRole('alert').filter({ hasText: 'wrong.csv' }).waitFor();
    await page.getByRole('button', { name: 'Leave it out' }).click();
    await ofTheReport(page, 'haemonchus').waitFor({ state: 'detached' });
    await says(page, 'clear drench', /./);
  },

  async 'before and after in two files'(page) {
    const half = (count) => Array.from({ length: 8 }, (_, i) => `lambs,${i + 1},${count(i)}`).join('\n');
    const files = [['before.csv', `mob,tag,epg before\n${half((i) => 500 + 50 * i)}\n`],
      ['after.csv', `mob,tag,epg after\n${half((i) => 400 - 50 * (i % 3))}\n`]];
    await page.getByLabel('Choose a file').setInputFiles(files.map(([name, text]) =>
      ({ name, mimeType: 'text/csv', buffer: Buffer.from(text) })));
    await page.getByLabel('Factor', { exact: true }).fill('50');
    await page.keyboard.press('Enter');
    await page.getByText('How it was read: 8 animals in 1 group').waitFor();
    assert.equal(await cell(page, 'eggs before', 2).inputValue(), '11');
    await page.reload();
    await page.getByText('How it was read: 8 animals in 1 group').waitFor();
  },

  async 'markup stays text'(page) {
    await chooseText(page, 'markup.csv', tenAnimals(',factor', ',50')
      .replaceAll('lambs', '<img src=x onerror=alert(1)><b>bold</b>'));
    await page.locator('td', { hasText: '<b>bold</b>' }).waitFor({ state: 'attached' });
    await page.getByLabel(/Drug class of/).waitFor();
    await ofTheReport(page, '<b>bold</b>').waitFor();
    assert.equal(await page.locator('main b, main img').count(), 0);
  },

  async 'heading, criteria and cut-offs of one\'s own'(page) {
    await page.getByRole('button', { name: 'Try it with an invented trial' }).click();
    await says(page, 'white drench', 'Failing');
    await page.getByText('Heading of the report').click();
    await page.getByLabel('Farm', { exact: true }).fill('Invented farm');
    await page.getByLabel('Farm', { exact: true }).press('Tab');
    await ofTheReport(page, 'Invented farm').waitFor();
    await page.getByText('More settings').click();
    await page.getByLabel('Criteria shown first').selectOption('WAAVP 1992');
    await ofTheReport(page, 'WAAVP 1992').waitFor();
    await page.getByLabel('Level of intervals, percent').fill('5');
    await page.getByLabel('Level of intervals, percent').press('Tab');
    await page.getByText('Found "5"; expected a number from 50 to 99.9, such as 90.').waitFor();
    await page.getByLabel('Choose a TOML file').setInputFiles(
      { name: 'own.toml', mimeType: 'text/plain', buffer: Buffer.from('schema = 1') });
    await page.getByRole('alert').filter({ hasText: 'your cut-offs' }).waitFor();
    await page.getByLabel('Choose a TOML file').setInputFiles(example('own-cut-offs.toml'));
    await page.getByText('In use: own-cut-offs.toml').waitFor();
    await says(page, 'white drench', /./);
  },

  async 'kept, renamed, deleted and brought back'(page, look) {
    await choose(page, example('mixed-worms.csv'));
    await ofTheReport(page, 'clear drench').waitFor();
    await page.getByText(/The counts it was taken for/).click();
    await cell(page, 'eggs after', 1).fill('12');
    await page.keyboard.press('Enter');
    await page.reload(); // at once: what was typed last is kept too
    await ofTheReport(page, 'mended by hand in the page').waitFor({ state: 'attached' });
    await page.goBack(); // to where a table comes in
    await page.getByRole('heading', { name: 'Your trials' }).waitFor();
    await page.goForward();
    await page.getByRole('heading', { name: 'mixed-worms' }).waitFor();
    assert.equal(await cell(page, 'eggs after', 1).inputValue(), '12');
    await ofTheReport(page, 'mended by hand in the page').waitFor({ state: 'attached' });
    page.once('dialog', (dialog) => dialog.accept());
    await page.getByRole('button', { name: 'Back to the table as it came' }).click();
    await ofTheReport(page, 'mended by hand').waitFor({ state: 'detached' });
    assert.equal(await cell(page, 'eggs after', 1).inputValue(), '11');
    await page.goBack();
    await page.getByRole('button', { name: 'Rename mixed-worms' }).click();
    await page.getByLabel('Name of the trial').fill('north hill');
    await page.keyboard.press('Enter');
    await look('list');
    page.once('dialog', (dialog) => dialog.accept());
    await page.getByRole('button', { name: 'Delete north hill' }).click();
    await page.getByRole('link', { name: 'north hill' }).waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'Undo: bring "north hill" back' }).click();
    await page.getByRole('link', { name: 'north hill' }).click();
    await frameOf(page, 'Report').getByRole('heading', { name: /north hill/ }).first().waitFor();
    await page.goto(`${page.url().split('#')[0]}#judge/nothing`);
    await page.getByText('That trial is not kept in this browser').waitFor();
  },

  async 'a large file is kept as the counts it was taken for'(page) {
    const remark = 'a remark that nobody needs '.repeat(8);
    const rows = Array.from({ length: 2500 }, (_, i) => `mob ${i % 5},${i + 1},${31 + (i % 29)},${i % 7},50,${remark}`);
    await chooseText(page, 'large.csv', `Mob,Tag,Eggs before,Eggs after,Factor,Remarks\n${rows.join('\n')}\n`);
    await page.getByText('once this page is closed, only the counts table it is taken for is kept').waitFor();
    await page.getByText('How it was read: 2500 animals in 5 groups').waitFor();
    await ofTheReport(page, 'mob 4').waitFor();
    await page.reload();
    await page.getByText('Its file was large, so the counts table it was taken for is what is kept.').waitFor();
    assert.equal(await cell(page, 'eggs before', 2).inputValue(), '36'); // mob by mob
    // How the file was read is told all the same.
    await ofTheReport(page, 'not used: "Remarks"').waitFor({ state: 'attached' });
  },

  async 'printing gives the report'(page) {
    await page.getByRole('button', { name: 'Try it with an invented trial' }).click();
    await says(page, 'white drench', 'Failing');
    await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
    await page.emulateMedia({ media: 'print' });
    assert.ok(await page.locator('body > [data-printed] h1').first().isVisible());
    assert.ok(!await page.getByRole('link', { name: 'All trials, or another table' }).isVisible());
    await page.evaluate(() => dispatchEvent(new Event('afterprint')));
    await page.emulateMedia({ media: 'screen' });
    assert.ok(await page.getByRole('link', { name: 'All trials, or another table' }).isVisible());
    const pdf = await page.pdf({ format: 'A4' });
    assert.ok((pdf.toString('latin1').match(/\/Type \/Page\b/g) ?? []).length >= 4, 'all pages of the report');
    // Ctrl+P prints the report's own frame, and never the form.
    await page.evaluate(() => {
      window.print = () => { document.title = 'the form was printed'; };
      document.querySelector('iframe').contentWindow.print = () => { document.title = 'the report was printed'; };
    });
    await page.keyboard.press('Control+p');
    assert.equal(await page.title(), 'the report was printed');
  },

  async 'on a phone'(page, look) {
    await page.setViewportSize({ width: 360, height: 740 });
    await choose(page, example('mixed-worms.csv'));
    await ofTheReport(page, 'clear drench').waitFor();
    await page.getByText(/The counts it was taken for/).click();
    await cell(page, 'eggs after', 1).focus();
    const animal = cell(page, 'animal', 1);
    await animal.scrollIntoViewIfNeeded();
    assert.ok(await animal.evaluate((input) => {
      const box = input.getBoundingClientRect();
      return document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2) === input;
    }), 'the animal stays in sight as the table is moved aside');
    assert.ok((await animal.boundingBox()).height >= 43);
    await look('grid');
  },
});
