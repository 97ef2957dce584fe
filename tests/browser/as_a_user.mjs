// Opens eggfall.html from disk, without a network, as a user would, for the tests beside this file.
import { chromium } from 'playwright-core';
import axe from 'axe-core';
import assert from 'node:assert/strict';
import { mkdirSync } from 'node:fs';
import { pathToFileURL } from 'node:url';

const [executablePath, file, pictures, only = ''] = process.argv.slice(2);
if (pictures) mkdirSync(pictures, { recursive: true });

/// Runs each test in a browser of its own that has kept nothing. A test is async (page, look).
/// Usage of a test's file: node FILE CHROMIUM eggfall.html [FOLDER FOR PICTURES] [WORDS OF THE TESTS WANTED]
export async function run(tests) {
  let failures = 0;
  const browser = await chromium.launch({ executablePath, args: ['--no-sandbox', '--disable-gpu',
    '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'] });
  for (const [name, test] of Object.entries(tests).filter(([each]) => each.includes(only))) {
    const context = await browser.newContext({ offline: true, acceptDownloads: true,
      viewport: { width: 1280, height: 800 } });
    const page = await context.newPage();
    page.setDefaultTimeout(20_000);
    const faults = [];
    page.on('pageerror', error => faults.push(`threw ${error.message}`));
    page.on('console', message => {
      if (message.type() === 'error') faults.push(`console: ${message.text()}`);
    });
    page.on('request', request => {
      if (!/^(file|blob|data|about):/.test(request.url())) faults.push(`asked for ${request.url()}`);
    });
    try {
      await page.goto(pathToFileURL(file).href);
      await test(page, (moment) => look(page, `${name} ${moment}`.replace(/\W+/g, '-')));
      assert.deepEqual(faults, []);
      console.log(`ok ${name}`);
    } catch (error) {
      failures += 1;
      console.log(`FAILED ${name}: ${error.stack}`);
    }
    await context.close();
  }
  await browser.close();
  process.exit(failures ? 1 : 0);
}

/// The page as it stands, at 360 and 1280 px, light and dark: nothing beyond the window, no small
/// text, nothing that axe finds against WCAG 2.2 AA; and pictures of it, if a folder is given.
async function look(page, name) {
  const before = page.viewportSize();
  for (const width of [360, 1280])
    for (const colorScheme of ['light', 'dark']) {
      await page.setViewportSize({ width, height: 800 });
      await page.emulateMedia({ colorScheme });
      await page.waitForTimeout(100);
      const beyond = await page.evaluate(() => document.scrollingElement.scrollWidth -
        document.documentElement.clientWidth);
      assert.ok(beyond <= 0, `${name}, ${width} px: ${beyond} px beyond the window`);
      const small = await page.evaluate(() => [...document.querySelectorAll('body *')]
        .filter(element => [...element.childNodes].some(node => node.nodeType === 3 && node.data.trim()))
        .filter(element => !element.closest('script, style, noscript') && element.getClientRects().length)
        .filter(element => parseFloat(getComputedStyle(element).fontSize) < 11.9)
        .map(element => element.textContent.trim().slice(0, 40)));
      assert.deepEqual(small, [], `${name}, ${width} px: small text`);
      await page.evaluate(axe.source);
      const { violations } = await page.evaluate(() => axe.run(document, { iframes: false, runOnly:
        ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'] }));
      assert.deepEqual(violations.map(({ id, nodes }) => `${id}: ${nodes[0].html.slice(0, 120)}`), [],
        `${name}, ${width} px, ${colorScheme}`);
      if (pictures)
        await page.screenshot({ path: `${pictures}/${name}-${width}-${colorScheme}.png`, fullPage: true });
    }
  await page.emulateMedia({ colorScheme: 'light' });
  await page.setViewportSize(before);
}

/// The page within a frame that shows what the engine made.
export const frameOf = (page, title) => page.frameLocator(`iframe[title="${title}"]`);

/// What the browser saves while `act` runs: its name and bytes.
export async function saved(page, act) {
  const [download] = await Promise.all([page.waitForEvent('download'), act()]);
  const chunks = [];
  for await (const chunk of await download.createReadStream()) chunks.push(chunk);
  return { name: download.suggestedFilename(), bytes: Buffer.concat(chunks) };
}
