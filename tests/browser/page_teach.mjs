// Teach, as an extension officer would use it.
import assert from 'node:assert/strict';
import { frameOf, run, saved } from './as_a_user.mjs';

const button = (page, name) => page.getByRole('button', { name, exact: true });
const sliders = (page) => frameOf(page, 'The sliders');
const enter = (page) => page.getByRole('link', { name: 'Teach' }).click();

async function invent(page, { lesson, seed, trials } = {}) {
  if (lesson) await page.getByLabel('Lesson', { exact: true }).selectOption({ label: lesson });
  if (seed !== undefined) await page.getByLabel('Seed').fill(seed);
  if (trials !== undefined) await page.getByLabel('Number of trials').fill(trials);
  await button(page, 'Invent the trial').click();
  await button(page, 'Judge this trial').waitFor();
}

const counts = (page) => saved(page, () => button(page, 'Save counts (CSV)').click());

await run({
  async 'sliders are made when asked for, and move'(page, look) {
    await enter(page);
    await look('home');
    assert.ok(await page.locator('iframe').first().isHidden());
    await page.getByRole('link', { name: 'Open the sliders' }).click();
    await page.getByRole('progressbar').waitFor();
    const animals = sliders(page).getByRole('slider').first();
    await animals.waitFor();
    const picture = () => sliders(page).locator('figure:visible, svg:visible').first().innerHTML();
    const words = () => sliders(page).locator('main, body').first().innerText();
    const before = [await picture(), await words()];
    await animals.press('ArrowRight');
    const moved = await words();
    assert.notEqual(moved, before[1]);
    assert.notEqual(await picture(), before[0]);
    await look('sliders');
    const { name, bytes } = await saved(page, () => button(page, 'Save the page').click());
    assert.equal(name, 'lesson.html');
    assert.match(bytes.toString(), /^<!DOCTYPE html>/i);
    const small = await page.locator('iframe').boundingBox();
    await button(page, 'Fill the window').click();
    const large = await page.locator('iframe').boundingBox();
    assert.ok(large.width > small.width && large.height > 680, `${large.width} x ${large.height}`);
    assert.equal(await words(), moved, 'the setting stays');
    await page.keyboard.press('Escape');
    assert.deepEqual(await page.locator('iframe').boundingBox().then(box => box.width), small.width);
    await page.goBack();
    await page.getByRole('heading', { name: 'Teach: why trials mislead' }).waitFor();
    await page.goForward();
    assert.ok(await animals.isVisible(), 'the page is made once');
  },

  async 'making the sliders can be stopped'(page) {
    await enter(page);
    await page.getByRole('link', { name: 'Open the sliders' }).click();
    await button(page, 'Stop').click();
    await page.getByText('Stopped: the page was not made.').waitFor();
    await button(page, 'Make it').click();
    await sliders(page).getByRole('slider').first().waitFor();
  },

  async 'the same seed gives the same bytes, another gives others'(page) {
    await enter(page);
    await invent(page, { seed: '3' });
    const first = await counts(page);
    assert.equal(first.name, 'lesson-1-seed-3.csv');
    await button(page, 'Next seed').click();
    await page.getByRole('heading', { name: 'Lesson 1, seed 4' }).waitFor();
    await button(page, 'Judge this trial').waitFor();
    assert.notDeepEqual((await counts(page)).bytes, first.bytes);
    await page.goBack();
    await invent(page, { seed: '3' });
    assert.deepEqual((await counts(page)).bytes, first.bytes);
    const truth = await saved(page, () => button(page, 'Save truth (JSON)').click());
    assert.equal(truth.name, 'lesson-1-seed-3-truth.json');
    assert.equal(JSON.parse(truth.bytes).seed, 3);
    await page.goBack();
    await invent(page, { trials: '5' });
    assert.equal((await counts(page)).bytes.toString().trim().split('\n').length, 101);
    await page.getByText('The first 12 of 100 lines').waitFor();
  },

  async 'the truth and the lesson are hidden until asked for'(page, look) {
    await enter(page);
    const lesson = page.getByText('About one animal in ten slipped past the drench gun.');
    await page.getByLabel('Lesson', { exact: true }).selectOption({ label: '8. Some animals were never dosed' });
    await page.getByText('Which animals would you ask the farmer about?').waitFor();
    assert.ok(await lesson.isHidden());
    await page.getByText('What it teaches, for the teacher').click();
    assert.ok(await lesson.isVisible());
    await invent(page, { seed: '1' });
    await look('trial');
    const seen = await page.locator('main').innerText();
    for (const secret of ['never dosed', 'Truly removes', 'missed-at-the-gate', 'slipped past'])
      assert.ok(!seen.includes(secret), `students see "${secret}"`);
    await button(page, 'Show the truth').click();
    await page.getByText(/^Never dosed: \d/).waitFor();
    assert.match(await page.getByRole('row', { name: /clear drench/ }).last().innerText(), /\d%/);
    await look('truth');
    await button(page, 'Hide the truth').click();
    assert.equal(await page.getByText(/^Never dosed: \d/).count(), 0);
    await button(page, 'Show the truth').click();
    await page.reload();
    await button(page, 'Show the truth').waitFor();
    assert.equal(await page.getByText(/^Never dosed: \d/).count(), 0);
  },

  async 'a trial with larvae goes to be judged'(page) {
    await enter(page);
    await invent(page, { lesson: '10. One worm hides among others' });
    const larvae = await saved(page, () => button(page, 'Save larvae (CSV)').click());
    assert.match(larvae.bytes.toString(), /^group,time,worm,larvae/);
    const table = await counts(page);
    // Looked at in the very moment of the click: the other room may take it out of the store.
    const given = await button(page, 'Judge this trial').evaluate(each => {
      each.click();
      return JSON.parse(localStorage.getItem('eggfall.handover'));
    });
    await page.waitForURL(/#judge/);
    assert.equal(given.name, 'lesson-10-seed-1.csv');
    assert.equal(given.text, table.bytes.toString());
    assert.equal(given.larvae, larvae.bytes.toString());
    await page.getByText('Handed over by another room of this page.').waitFor();
    await page.frameLocator('iframe[title="Report"]').getByText(/haemonchus/).first().waitFor({ state: 'attached' });
  },

  async 'wrong numbers are refused beside their boxes'(page, look) {
    await enter(page);
    await page.getByLabel('Seed').fill('-1');
    await page.getByLabel('Number of trials').fill('1.5');
    await button(page, 'Invent the trial').click();
    await page.getByText('Found “-1”; expected a whole number from 0').waitFor();
    await page.getByText('Found “1.5”; expected a whole number from 1 to 1,000').waitFor();
    await look('wrong');
    await page.getByLabel('Seed').fill('2');
    await invent(page, { trials: '' });
    await page.getByRole('heading', { name: 'Lesson 1, seed 2' }).waitFor();
  },
});
