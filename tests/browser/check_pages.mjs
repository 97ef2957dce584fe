// Opens pages that eggfall wrote in headless Chromium and says what is wrong with them.
// usage: node check_pages.mjs CHROMIUM PAGE.html...
import { chromium } from 'playwright-core';
import axe from 'axe-core';
import { pathToFileURL } from 'node:url';

const [executablePath, ...pages] = process.argv.slice(2);
const widths = [360, 1280];
let failures = 0;

function check(holds, page, what) {
  if (holds) return;
  failures += 1;
  console.log(`FAILED ${page}: ${what}`);
}

/// Of paper for the farmer's part: two for up to three drenches, one more for each two beyond.
function most_pages(drenches) {
  return 2 + Math.ceil(Math.max(0, drenches - 3) / 2);
}

/// What lies outside the window, or makes it scroll sideways.
function outside() {
  const width = document.documentElement.clientWidth;
  const beyond = [...document.querySelectorAll('svg, h1, h2, h3, p, li, figure')].filter(element => {
    const box = element.getBoundingClientRect();
    const scrolls = element.closest('.wide');
    return !scrolls && (box.left < -0.5 || box.right > width + 0.5);
  });
  return {
    scrolls: document.scrollingElement.scrollWidth > width,
    beyond: beyond.map(element => `${element.tagName} ${element.textContent.slice(0, 40)}`),
    flat: [...document.querySelectorAll('svg')].filter(svg => {
      const box = svg.getBoundingClientRect();
      return box.width < 10 || box.height < 10;
    }).length,
  };
}

/// Moves the first slider by keyboard and the last to its end: the page must then show the numbers
/// that it holds for that setting.
async function check_sliders(page, name) {
  const sliders = page.locator('input[data-slider]');
  if (await sliders.count() === 0) return;
  const before = await page.locator('.setting').innerText();
  await sliders.first().press('End');
  const last = sliders.last();
  await last.fill(await last.getAttribute('max'));
  check(await page.locator('.setting').innerText() !== before, name, 'its sliders change nothing');
  const shown = await page.locator('[data-number="0"]').allInnerTexts();
  const held = await page.evaluate(() => {
    const steps = [...document.querySelectorAll('input[data-slider]')].map(each => each.value);
    return steps.reduce((cells, step) => cells[step], lesson.cells).map(cell => cell.numbers[0]);
  });
  const wanted = [...held, ...held].map(tenths => (tenths / 10).toFixed(1));
  check(shown.join() === wanted.join(), name, `it shows ${shown} where ${wanted} is right`);
}

function pages_in(pdf) {
  return (pdf.toString('latin1').match(/\/Type\s*\/Page[^s]/g) ?? []).length;
}

const browser = await chromium.launch({ executablePath, args: ['--no-sandbox', '--disable-dev-shm-usage'] });
for (const path of pages) {
  for (const width of widths) {
    for (const colorScheme of ['light', 'dark']) {
      const context = await browser.newContext({
        viewport: { width, height: 800 }, colorScheme, isMobile: width < 500, hasTouch: width < 500,
      });
      const page = await context.newPage();
      const name = `${path} at ${width} px, ${colorScheme}`;
      page.on('console', message => check(message.type() !== 'error', name, message.text()));
      page.on('pageerror', error => check(false, name, error.message));
      page.on('request', request =>
        check(request.url().startsWith('file:'), name, `it fetches ${request.url()}`));
      await page.goto(pathToFileURL(path).href);
      const found = await page.evaluate(outside);
      check(!found.scrolls, name, 'it scrolls sideways');
      check(found.beyond.length === 0, name, `outside the window: ${found.beyond.join('; ')}`);
      check(found.flat === 0, name, `${found.flat} figures without a size`);
      await page.evaluate(axe.source);
      const result = await page.evaluate(() => window.axe.run(document, {
        runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'best-practice'],
      }));
      for (const violation of result.violations)
        check(false, name, `${violation.id}: ${violation.help}; ` +
          violation.nodes.slice(0, 3).map(node => node.html.slice(0, 160)).join(' | '));
      await check_sliders(page, name);
      check(result.passes.length > 10, name, 'the accessibility check looked at next to nothing');
      if (width === 1280 && colorScheme === 'light') {
        for (const format of ['A4', 'Letter']) {
          check(pages_in(await page.pdf({ format })) > 0, name, `no page of ${format}`);
          if (await page.locator('.farmer').count() !== 1) continue;
          const drenches = await page.locator('.drench').count();
          await page.addStyleTag({ content: 'main > :not(.farmer) { display: none; }' });
          const paper = pages_in(await page.pdf({ format }));
          check(paper >= 1 && paper <= most_pages(drenches), name,
                `the farmer's part takes ${paper} pages of ${format}`);
          await page.reload();
        }
      }
      await context.close();
    }
  }
  console.log(`looked at ${path}`);
}
await browser.close();
process.exit(failures > 0 || pages.length === 0 ? 1 : 0);
