// Plan a test, as a veterinarian would use it.
import assert from 'node:assert/strict';
import { frameOf, run, saved } from './as_a_user.mjs';

const planRoom = (page) => page.getByRole('link', { name: 'Plan a test' });
const answerFrame = (page) => frameOf(page, 'The plan');
const button = (page, name) => page.getByRole('button', { name, exact: true });

async function answerQuestions(page, { mean = '600', factor = '50', host = 'sheep' } = {}) {
  await planRoom(page).click();
  await page.getByLabel('Animals', { exact: true }).selectOption(host);
  await page.getByLabel('Mean count expected').fill(mean);
  await page.getByLabel('BZ: benzimidazoles').check();
  await page.getByLabel('One egg seen stands for').first().fill(factor);
}

/// The smallest plan that says something: one group size.
async function oneSize(page, size = '12') {
  await page.getByText('More: costs').click();
  await page.getByLabel('Group sizes to compare').fill(size);
}

/// Tabs on until what has the focus is called so.
async function tabTo(page, name) {
  for (let i = 0; i < 40; i += 1) {
    await page.keyboard.press('Tab');
    const has = await page.evaluate(() => {
      const focused = document.activeElement;
      return focused.labels?.[0]?.textContent ?? focused.textContent;
    });
    if (has.startsWith(name)) return;
  }
  assert.fail(`no way by Tab to ${name}`);
}

/// Waits until the bar has passed `least`, and says where it is then.
async function progressBeyond(page, least) {
  const end = Date.now() + 20_000;
  const bar = page.locator('progress');
  for (let reached = 0; Date.now() < end;) {
    reached = await bar.evaluate(each => each.value);
    if (reached > least) return reached;
  }
  assert.fail(`the bar never passed ${least}`);
}

const mended = (page, label) => page.getByLabel(label).first().evaluate(input =>
  input.getAttribute('aria-describedby').split(' ').map(id => document.getElementById(id).textContent)[0]);

await run({
  async 'a plan by keyboard alone'(page, look) {
    await tabTo(page, 'Plan a test');
    await page.keyboard.press('Enter');
    await tabTo(page, 'Animals');
    await page.keyboard.type('sheep');
    await tabTo(page, 'Mean count expected');
    await page.keyboard.type('600');
    await tabTo(page, 'ML');
    await page.keyboard.press('Space');
    await tabTo(page, 'One egg seen stands for');
    await page.keyboard.type('50');
    await look('questions');
    await tabTo(page, 'Quick look');
    await page.keyboard.press('Enter');
    await progressBeyond(page, await progressBeyond(page, 0.1));
    await page.getByRole('heading', { name: /Quick look: sheep, ML, 600 EPG, one egg for 50 EPG/ }).waitFor();
    await answerFrame(page).getByText(/^Take \d+ animals a group \(paired\), one egg for 50 EPG/).waitFor();
    assert.match(await page.evaluate(() => document.activeElement.textContent), /^Quick look: sheep/);
    assert.ok(await page.locator('progress').isHidden());
    await look('answer');
  },

  async 'stop, another room meanwhile, and a new run'(page) {
    await answerQuestions(page);
    await button(page, 'Exact').click();
    await progressBeyond(page, 0.02);
    await page.getByRole('link', { name: 'Plan a test (working)' }).waitFor();
    // The other rooms' engine answers while the plan is still worked out.
    await page.getByRole('link', { name: 'Teach' }).click();
    await page.getByRole('button', { name: 'Invent the trial' }).click();
    await page.getByRole('button', { name: 'Judge this trial' }).waitFor();
    await planRoom(page).click();
    assert.ok(await page.getByRole('progressbar').isVisible());
    await page.keyboard.press('Tab');
    await button(page, 'Stop').click();
    await page.getByText('Stopped: nothing was worked out.').waitFor();
    assert.equal(await planRoom(page).textContent(), 'Plan a test');
    assert.equal(await page.evaluate(() => document.activeElement.textContent), 'Exact');
    await oneSize(page);
    await button(page, 'Quick look').click();
    await answerFrame(page).getByText(/right answers|such tests/).first().waitFor();
  },

  async 'an answer is kept, opened, saved, deleted and put back; back goes back'(page, look) {
    await answerQuestions(page);
    await oneSize(page);
    await button(page, 'Quick look').click();
    await answerFrame(page).getByText(/12 animals a group/).first().waitFor();
    await page.goBack();
    await page.getByRole('heading', { name: 'Plan a test' }).waitFor();
    assert.equal(await page.getByLabel('Mean count expected').inputValue(), '600');
    await page.reload();
    assert.equal(await page.getByLabel('Mean count expected').inputValue(), '600');
    assert.ok(await page.getByLabel('BZ: benzimidazoles').isChecked());
    await look('kept');
    await page.getByRole('link', { name: 'sheep, BZ, 600 EPG, one egg for 50 EPG' }).click();
    await answerFrame(page).getByText(/12 animals a group/).first().waitFor();
    const csv = await saved(page, () => button(page, 'Save as CSV').click());
    assert.equal(csv.name, 'plan-sheep-BZ-600-epg.csv');
    assert.match(csv.bytes.toString(), /^design,animals_a_group,factor.*\r\npaired,12,50,/);
    const json = await saved(page, () => button(page, 'Save as JSON').click());
    const { flock, trials_at_most } = JSON.parse(json.bytes);
    assert.deepEqual([flock.mean_epg, flock.classes, trials_at_most], [600, ['BZ'], 100]);
    const html = await saved(page, () => button(page, 'Save as page').click());
    assert.match(html.bytes.toString(), /<h1>Plan of a drench test: sheep<\/h1>/);
    await button(page, 'Delete this answer').click();
    await page.getByText('The answer was deleted.').waitFor();
    assert.equal(await page.getByRole('link', { name: /sheep, BZ/ }).count(), 0);
    await button(page, 'Put it back').click();
    await answerFrame(page).getByText(/12 animals a group/).first().waitFor();
  },

  async 'asks exactly from a quick look, and for a second counting method'(page) {
    await answerQuestions(page, { host: 'cattle', mean: '40' });
    await oneSize(page, '10');
    const second = page.getByRole('group', { name: 'A second counting method' });
    await second.getByLabel('Cost of one sample').fill('3');
    await button(page, 'Quick look').click();
    await second.getByText(/Nothing is written here; expected a number from 0.001/).waitFor();
    await second.getByLabel('One egg seen stands for').fill('5');
    await button(page, 'Quick look').click();
    await page.getByRole('heading', { name: /^Quick look: cattle, BZ, 40 EPG, one egg for 50 or 5 EPG/ }).waitFor();
    await answerFrame(page).getByText('one egg for 5 EPG').first().waitFor();
    const quick = await page.getByRole('heading', { name: /^Quick look/ }).textContent();
    await page.setViewportSize({ width: 360, height: 640 });
    await button(page, 'Ask exactly').click();
    assert.ok(await button(page, 'Stop').evaluate(each => each.getBoundingClientRect().bottom <= innerHeight));
    await page.getByRole('heading', { name: quick.replace('Quick look', 'Exact') }).waitFor({ timeout: 60_000 });
  },

  async 'horses ask for a worm'(page) {
    await answerQuestions(page, { host: 'horses' });
    await button(page, 'Quick look').click();
    assert.match(await mended(page, 'Worm'), /Nothing is chosen; expected a worm/);
    await page.getByLabel('Worm').selectOption('ascarids');
    await oneSize(page);
    await button(page, 'Quick look').click();
    await page.getByRole('heading', { name: 'Quick look: horses (ascarids), BZ, 600 EPG' }).waitFor();
    await answerFrame(page).getByRole('cell', { name: 'horses, ascarids' }).waitFor();
  },

  async 'wrong answers are refused beside their boxes'(page, look) {
    await planRoom(page).click();
    await button(page, 'Quick look').click();
    assert.match(await mended(page, 'Animals'), /Nothing is chosen; expected the kind of animal/);
    await page.getByText('Nothing is ticked; expected one class or more.').waitFor();
    assert.equal(await page.evaluate(() => document.activeElement.labels[0].textContent), 'Animals');
    await answerQuestions(page, { mean: '-5', factor: '0' });
    await page.getByText('Factor not known?').click();
    await page.getByText('Factor not known?').click();
    assert.match(await mended(page, 'Mean count expected'), /Found “-5”; expected a number from 0.01 to 1,000,000/);
    assert.match(await mended(page, 'One egg seen stands for'), /Found “0”; expected a number from 0.001/);
    await look('wrong');
    for (const [text, words] of [['many', /Found “many”; expected a number/],
      ['1,200', /the comma may mean thousands or decimals; write 1200 or 1.2\./], ['600 EPG', /expected a number/]]) {
      await page.getByLabel('Mean count expected').fill(text);
      await button(page, 'Quick look').click();
      assert.match(await mended(page, 'Mean count expected'), words);
    }
    await page.getByLabel('Mean count expected').fill('62,5');
    await page.getByLabel('One egg seen stands for').first().fill('5');
    await oneSize(page, '8, ten');
    await button(page, 'Quick look').click();
    assert.match(await mended(page, 'Group sizes'), /Found “ten”; expected whole numbers/);
    await page.getByLabel('Group sizes').fill('8');
    await page.getByLabel('Animals there are').fill('5');
    await button(page, 'Quick look').click();
    await page.getByText(/5 animals; expected 8 or more/).waitFor();
    await page.getByLabel('Animals there are').fill('');
    await button(page, 'Quick look').click();
    await answerFrame(page).getByText('62.5 EPG').first().waitFor();
  },

  async 'the bench calculator gives the factor'(page) {
    await answerQuestions(page, { factor: '' });
    await page.getByText('Factor not known?').click();
    await page.getByLabel('Faeces').fill('3');
    await page.getByLabel('Liquid').fill('42');
    await page.getByLabel('Chambers counted').fill('2');
    await page.getByLabel('One chamber holds').fill('0.5');
    const workOut = button(page, 'Work out the factor');
    if (await workOut.count()) await workOut.click();
    await page.getByRole('button', { name: /Use|Take/ }).click();
    assert.equal(await page.getByLabel('One egg seen stands for').first().inputValue(), '15');
  },

  async 'printed, the answer is the engine\'s page alone'(page) {
    await answerQuestions(page);
    await oneSize(page);
    await button(page, 'Quick look').click();
    await answerFrame(page).getByText(/12 animals a group/).first().waitFor();
    await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
    await page.emulateMedia({ media: 'print' });
    assert.ok(await page.getByRole('heading', { name: 'Plan of a drench test: sheep' }).isVisible());
    assert.ok(await page.getByText('Change the questions').isHidden());
    await page.evaluate(() => dispatchEvent(new Event('afterprint')));
    await page.emulateMedia({ media: 'screen' });
    assert.ok(await page.getByText('Change the questions').isVisible());
  },
});
