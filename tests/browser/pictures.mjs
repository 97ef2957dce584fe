// Takes the pictures of README.md from pages that pictures.sh has made.
// usage: node pictures.mjs CHROMIUM PAGES PICTURES
import { chromium } from 'playwright-core';
import { existsSync, mkdirSync } from 'node:fs';
import { pathToFileURL } from 'node:url';

const [executablePath, pages, pictures] = process.argv.slice(2);
const width = 720;
mkdirSync(pictures, { recursive: true });
const browser = await chromium.launch({ executablePath, args: ['--no-sandbox', '--disable-dev-shm-usage'] });
const page = await browser.newPage({ viewport: { width, height: 900 }, colorScheme: 'light' });

/// From the top of one element to the bottom of another.
async function take(name, first, last) {
  const top = await page.locator(first).first().boundingBox();
  const bottom = await page.locator(last).first().boundingBox();
  const above = Math.max(0, top.y - 8);
  await page.screenshot({ path: `${pictures}/${name}.png`, fullPage: true,
    clip: { x: 0, y: above, width, height: bottom.y + bottom.height + 8 - above } });
}

await page.goto(pathToFileURL(`${pages}/report.html`).href);
await take('answer', '.farmer h1', '.farmer article.drench');
await take('evidence', '.panels', '.panels + .key');
await page.goto(pathToFileURL(`${pages}/sheets.html`).href);
await page.screenshot({ path: `${pictures}/sheet.png`, clip: { x: 0, y: 0, width, height: 620 } });

// The page for browsers, where it was built: the invented trial, judged.
if (existsSync('build/browser/eggfall.html')) {
  const judging = await browser.newPage({ viewport: { width: 900, height: 1050 }, colorScheme: 'light' });
  await judging.goto(pathToFileURL('build/browser/eggfall.html').href);
  await judging.getByRole('button', { name: /invented trial/ }).click();
  await judging.frameLocator('iframe[title="Report"]').locator('h1').first().waitFor();
  await judging.evaluate(() => scrollTo(0, 0));
  await judging.waitForTimeout(3000); // the forecast of inconclusive groups comes after the first answer
  await judging.screenshot({ path: `${pictures}/page.png` });
}
await browser.close();
