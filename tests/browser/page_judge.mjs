import assert from 'node:assert/strict';
import { run, frameOf, saved } from './as_a_user.mjs';
run({
  async 'invented trial'(page, look) {
    const t = Date.now();
    await page.getByRole('button', { name: 'Try it with an invented trial' }).click();
    await frameOf(page, 'Report').locator('span', { hasText: 'Failing' }).first().waitFor();
    console.log('first', Date.now() - t);
    await look('words');
  },
  async 'lab sheet'(page, look) {
    await look('start');
    await page.getByLabel('Choose a file').setInputFiles('examples/lab-sheet.csv');
    await page.getByRole('heading', { name: /How many eggs per gram/ }).waitFor();
    await look('factor');
    await page.getByLabel('Factor', { exact: true }).fill('50');
    await page.getByRole('button', { name: 'Use this factor' }).click();
    await frameOf(page, 'Report').getByText('Ivermectin').first().waitFor();
    await page.waitForTimeout(1500);
    await look('groups');
  },
  async 'typed'(page, look) {
    await page.getByRole('button', { name: 'Type the counts in' }).click();
    await look('empty');
  },
});
