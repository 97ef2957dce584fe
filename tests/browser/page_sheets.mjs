// Yard sheets, as a veterinarian would use them.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { frameOf, run, saved } from './as_a_user.mjs';

const mob = new URL('../../examples/mob.csv', import.meta.url).pathname;
const tags = readFileSync(mob, 'utf8').trim().split('\n').slice(1).map(line => line.split(',')[0]);

const sheets = (page) => frameOf(page, 'The sheets');
const button = (page, name) => page.getByRole('button', { name, exact: true });
const group = (page, number) => page.getByRole('group', { name: `Group ${number}`, exact: true });
const make = (page) => button(page, 'Make the sheets').click();
const madeHeading = (page) => page.getByRole('heading', { name: /^Sheets for/ });

const begin = async (page) => {
  await page.getByRole('link', { name: 'Yard sheets' }).click();
  await page.getByLabel('Animals', { exact: true }).selectOption('sheep');
};

const bringIn = (page, file) => page.getByLabel('Bring in a list from a file').setInputFiles(file);

/// Two drenches with their doses, one by volume and one by substance, and a control.
async function twoGroupsAndControl(page) {
  await begin(page);
  await page.getByLabel('Farm', { exact: true }).fill('Thistle Down');
  await page.getByLabel('Day of treatment').fill('2031-05-12');
  await bringIn(page, mob);
  await page.getByText('mob.csv: 36 lines below the first.').waitFor();
  await group(page, 1).getByLabel('Group name').fill('white');
  await group(page, 1).getByLabel('Drench', { exact: true }).fill('white drench');
  await group(page, 1).getByLabel('BZ: benzimidazoles').check();
  await group(page, 1).getByLabel('mL for each kg').fill('0.2');
  await group(page, 2).getByLabel('Group name').fill('keepers');
  await button(page, 'Add a treated group').click();
  await page.keyboard.type('clear');
  await group(page, 3).getByLabel('ML: macrocyclic').check();
  await group(page, 3).getByLabel('or mg for each kg').fill('0.2');
  await group(page, 3).getByLabel('and mg in each mL').fill('1');
}

const problemAt = (input) => input.evaluate(each => {
  const [first] = (each.getAttribute('aria-describedby') ?? '').split(' ');
  return document.getElementById(first)?.textContent;
});

await run({
  async 'a mob, two drenches and a control'(page, look) {
    await twoGroupsAndControl(page);
    await group(page, 1).getByText('Check against the label: 0.2 mL for each kg: 8 mL for 40 kg.').waitFor();
    await group(page, 3).getByText('Check against the label: 0.2 mg for each kg, 1 mg in each mL: 0.2 mL for each ' +
      'kg, 8 mL for 40 kg.').waitFor();
    await page.getByText('More: drench gun').click();
    await page.getByLabel('Steps of the drench gun').fill('0.5');
    await page.getByLabel('Kinds of egg counted apart').fill('nematodirus');
    await look('questions');
    // By key: after a picture of the whole page the browser still scrolls, away from under a pointer.
    await button(page, 'Make the sheets').press('Enter');
    await madeHeading(page).waitFor();
    for (const tag of tags)
      assert.ok(await sheets(page).getByText(tag, { exact: true }).count() > 0, `no line for ${tag}`);
    await sheets(page).getByText('Thistle Down').first().waitFor();
    await sheets(page).getByText('NO DRENCH', { exact: true }).first().waitFor();
    assert.equal(await page.evaluate(() => document.activeElement.textContent),
      'Sheets for sheep: white, keepers, clear');
    await look('sheets');
    const table = await saved(page, () => button(page, 'Save the counts table (CSV)').click());
    assert.equal(table.name, 'counts-Thistle-Down-sheep.csv');
    const lines = table.bytes.toString().trim().split('\r\n');
    assert.match(lines[0], /^group,animal,role,drench,class,host.*eggs_before:nematodirus/);
    assert.deepEqual(lines.slice(1).map(line => line.split(',')[1]).sort(), [...tags].sort());
    assert.equal(lines.filter(line => line.startsWith('keepers,')).length, 12);
    const page_saved = await saved(page, () => button(page, 'Save the sheets').click());
    assert.equal(page_saved.name, 'sheets-Thistle-Down-sheep.html');
    assert.match(page_saved.bytes.toString(), /0\.2 mg/);
  },

  async 'what is typed and what was made outlive a reload; back goes back'(page) {
    await twoGroupsAndControl(page);
    await make(page);
    await sheets(page).getByText(tags[0], { exact: true }).first().waitFor();
    const order = () => sheets(page).locator('body').textContent();
    const first = await order();
    await page.reload();
    await sheets(page).getByText(tags[0], { exact: true }).first().waitFor();
    assert.equal(await order(), first);
    await page.goBack();
    assert.equal(await group(page, 3).getByLabel('or mg for each kg').inputValue(), '0.2');
    assert.ok(await group(page, 2).getByLabel('Untreated control').isChecked());
    await page.getByText('mob.csv: 36 lines').waitFor();
    await page.getByText('More: drench gun').click();
    await page.getByLabel('Seed').fill('2');
    await make(page);
    await sheets(page).getByText('seed 2').first().waitFor();
    assert.notEqual(await order(), first);
    await page.goBack();
    await page.getByRole('heading', { name: 'Yard sheets' }).waitFor();
  },

  async 'no two rates, no half of one, no comma that may mean either'(page, look) {
    await begin(page);
    const dose = (label) => group(page, 1).getByLabel(label);
    for (const label of ['mL for each kg', 'or mg for each kg', 'and mg in each mL'])
      assert.equal(await dose(label).inputValue(), '', 'a dose that nobody typed');
    await dose('mL for each kg').fill('0.2');
    await dose('or mg for each kg').fill('5');
    await dose('and mg in each mL').fill('25');
    await dose('and mg in each mL').blur();
    for (const label of ['mL for each kg', 'or mg for each kg'])
      assert.match(await problemAt(dose(label)), /Found a rate in mL and one in mg .* expected one of the two/);
    assert.equal(await group(page, 1).getByText('Check against the label').count(), 0);
    await look('two-rates');
    await bringIn(page, mob);
    await group(page, 1).getByLabel('Group name').fill('white');
    await group(page, 2).getByLabel('Group name').fill('keepers');
    await make(page);
    assert.ok(await madeHeading(page).isHidden());
    assert.equal(await dose('mL for each kg').evaluate(each => each === document.activeElement), true);
    await dose('mL for each kg').fill('');
    await dose('mL for each kg').blur();
    assert.equal(await dose('or mg for each kg').getAttribute('aria-invalid'), null);
    await group(page, 1).getByText('5 mg for each kg, 25 mg in each mL: 0.2 mL for each kg, 8 mL for 40 kg.').waitFor();
    await dose('and mg in each mL').fill('');
    await make(page);
    assert.match(await problemAt(dose('and mg in each mL')), /Nothing is written here/);
    await dose('and mg in each mL').fill('1,000');
    await make(page);
    assert.match(await problemAt(dose('and mg in each mL')), /thousands or decimals; write 1000 or 1\./);
    await dose('and mg in each mL').fill('0');
    await make(page);
    assert.match(await problemAt(dose('and mg in each mL')), /Found “0”/);
    await dose('and mg in each mL').fill('25');
    await make(page);
    await madeHeading(page).waitFor();
  },

  async 'lines for the race, without a list'(page) {
    await begin(page);
    await page.getByLabel('Which animals').selectOption('race');
    await page.getByLabel('Animals a group').fill('many');
    await group(page, 1).getByLabel('Group name').fill('pour-on');
    await group(page, 2).getByLabel('Group name').fill('untreated');
    await make(page);
    assert.match(await problemAt(page.getByLabel('Animals a group')), /Found “many”; expected a whole number/);
    await page.getByLabel('Animals a group').fill('5');
    await make(page);
    await madeHeading(page).waitFor();
    const { bytes } = await saved(page, () => button(page, 'Save the counts table (CSV)').click());
    assert.equal(bytes.toString().trim().split('\r\n').length, 11);
  },

  async 'a faulty list is refused beside it, with lines'(page, look) {
    await begin(page);
    await group(page, 1).getByLabel('Group name').fill('white');
    await group(page, 2).getByLabel('Group name').fill('keepers');
    const list = page.getByLabel('The list, written or pasted');
    await make(page);
    assert.match(await problemAt(list), /Nothing is written here; expected a list of animals/);
    await list.fill('animal,weight_kg\n1,abc\n2,31\n2,30\n');
    await make(page);
    await page.getByText(/:2: column 2 \(weight_kg\): found "abc".*:4: .*"2" again/).waitFor();
    assert.match(await problemAt(list), /found "abc"/);
    await look('faulty');
    await list.fill('animal,weight_kg,colour\n1,30,red\n2,31,black\n3,29,red\n4,35,red\n');
    await make(page);
    await page.getByText('not used: column "colour"').waitFor();
    await sheets(page).getByText('NO DRENCH', { exact: true }).first().waitFor();
  },

  async 'a group is removed and put back; two of one name are refused'(page) {
    await twoGroupsAndControl(page);
    await group(page, 2).getByLabel('Group name').fill('white');
    await make(page);
    await page.getByText('the group "white" twice; expected each once').waitFor();
    await group(page, 2).getByRole('button', { name: 'Remove this group' }).click();
    await page.getByText('The group white was removed.').waitFor();
    assert.equal(await page.getByLabel('Group name').count(), 2);
    await page.keyboard.press('Enter'); // the focus is on "Put it back"
    await group(page, 2).getByLabel('Group name').fill('keepers');
    await make(page);
    await page.getByRole('heading', { name: 'Sheets for sheep: white, keepers, clear' }).waitFor();
  },

  async 'a list that was replaced can be put back, and a workbook is taken as it is'(page) {
    await begin(page);
    await bringIn(page, mob);
    await page.getByText('mob.csv: 36 lines').waitFor();
    await bringIn(page, { name: 'list.csv', mimeType: 'text/csv',
      buffer: Buffer.from([...Buffer.from('animal,weight_kg\nr'), 0xe9, ...Buffer.from(',30\nb,31\n')]) });
    await page.getByText('list.csv was brought in as it is.').waitFor();
    await group(page, 1).getByLabel('Group name').fill('white');
    await group(page, 2).getByLabel('Group name').fill('keepers');
    await make(page);
    await page.getByText(/found the byte 0xE9, which is not UTF-8/).waitFor();
    await button(page, 'Put it back').click();
    await page.getByText('mob.csv: 36 lines').waitFor();
    await make(page);
    await madeHeading(page).waitFor();
  },

  async 'sheets that are older than the answers say so'(page) {
    await twoGroupsAndControl(page);
    await make(page);
    await madeHeading(page).waitFor();
    assert.equal(await page.getByText('Do not use these sheets').isVisible(), false);
    await page.goBack();
    await page.getByLabel('Farm', { exact: true }).fill('Another Farm');
    await page.goForward();
    await page.getByText('Do not use these sheets').waitFor();
    await page.reload();
    await page.getByText('Do not use these sheets').waitFor();
    await page.goBack();
    await make(page);
    await madeHeading(page).waitFor();
    assert.equal(await page.getByText('Do not use these sheets').isVisible(), false);
  },

  async 'the table goes to the counting room'(page) {
    await twoGroupsAndControl(page);
    await make(page);
    // Looked at in the very moment of the click: the other room may take it out of the store.
    const { name, text } = await button(page, 'Count on this device').evaluate(each => {
      each.click();
      return JSON.parse(localStorage.getItem('eggfall.count-list'));
    });
    await page.waitForURL(/#count/);
    assert.equal(name, 'counts-Thistle-Down-sheep.csv');
    for (const tag of tags) assert.ok(text.includes(`,${tag},`), tag);
    // They are the animals of the count that is begun there.
    await page.getByText(/counts-Thistle-Down-sheep\.csv/).waitFor();
    assert.equal(await page.evaluate(() => localStorage.getItem('eggfall.count-list')), null);
  },

  async 'printed, the sheets stand alone, each on its page'(page) {
    await twoGroupsAndControl(page);
    await make(page);
    await sheets(page).getByText(tags[0], { exact: true }).first().waitFor();
    await page.emulateMedia({ media: 'print' });
    const heads = sheets(page).getByRole('heading', { name: /Yard sheet/ });
    assert.ok(await heads.count() >= 2);
    await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
    assert.ok(await page.getByRole('heading', { name: /Yard sheet/ }).first().isVisible());
    assert.ok(await page.getByText('Change the answers').isHidden());
    await page.evaluate(() => dispatchEvent(new Event('afterprint')));
  },
});
