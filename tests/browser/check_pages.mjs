// Opens pages that eggfall wrote in headless Chromium and says what is wrong with them.
// usage: node check_pages.mjs CHROMIUM PAGE.html...
import { chromium } from 'playwright-core';
import axe from 'axe-core';
import { pathToFileURL } from 'node:url';

const [executablePath, ...pages] = process.argv.slice(2);
const widths = [360, 1280];
const first_screen = 640; // px, of a phone with the browser's own bars
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

/// Words too small to read, labels that run into each other, into a line or out of their figure, in
/// drawings in inks; pictures have their own scale.
function drawing_faults() {
  const smallest = 11.9; // 12 px, less what rounding takes
  const faults = [];
  const say = (what, element) =>
    faults.push(`${what}: "${(element.textContent || element.outerHTML).trim().slice(0, 50)}"`);
  for (const element of document.querySelectorAll('body *')) {
    const own = [...element.childNodes].some(node => node.nodeType === 3 && node.data.trim());
    if (!own || element.closest('svg, script, style, math') || !element.getClientRects().length) continue;
    if (parseFloat(getComputedStyle(element).fontSize) < smallest) say('small text', element);
  }
  const crossing = (a, b, slack) => a.left < b.right - slack && b.left < a.right - slack &&
    a.top < b.bottom - slack && b.top < a.bottom - slack;
  for (const svg of document.querySelectorAll('svg.inked')) {
    const frame = svg.getBoundingClientRect();
    if (frame.width === 0) continue;
    const texts = [...svg.querySelectorAll('text')].map(element =>
      ({ element, box: element.getBoundingClientRect() })).filter(({ box }) => box.width > 0);
    for (const { element } of texts) {
      const matrix = element.getScreenCTM();
      const scale = Math.hypot(matrix.b, matrix.d);
      if (parseFloat(getComputedStyle(element).fontSize) * scale < smallest &&
          !svg.classList.contains('sign')) say('small label', element);
    }
    for (const { element, box } of texts)
      if (box.left < frame.left - 1 || box.right > frame.right + 1 ||
          box.top < frame.top - 2 || box.bottom > frame.bottom + 2) say('clipped label', element);
    // A box of text is higher than its letters.
    const inner = box => ({ left: box.left, right: box.right,
                            top: box.top + 0.12 * box.height, bottom: box.bottom - 0.12 * box.height });
    texts.forEach(({ element, box }, i) => {
      for (const other of texts.slice(i + 1))
        if (crossing(inner(box), inner(other.box), 1)) say(`runs into "${other.element.textContent}"`, element);
    });
    // A box of text is higher than its letters: a line along its edge is no line through it.
    const lines = [...svg.querySelectorAll('line')].map(line => line.getBoundingClientRect());
    for (const { element, box } of texts) {
      const letters = { left: box.left + 1, right: box.right - 1,
                        top: box.top + 0.25 * box.height, bottom: box.bottom - 0.25 * box.height };
      for (const line of lines) {
        const upright = line.width < 3;
        const level = line.height < 3;
        const wide = { left: line.left - 0.1, right: line.right + 0.1,
                       top: line.top - 0.1, bottom: line.bottom + 0.1 };
        if ((upright || level) && crossing(letters, wide, 0)) { say('a line through', element); break; }
      }
    }
  }
  return faults;
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
      const faults = await page.evaluate(drawing_faults);
      if (width === 360 || width === 1280)
        check(faults.length === 0, name, `drawings: ${faults.slice(0, 8).join('; ')}` +
              (faults.length > 8 ? ` and ${faults.length - 8} more` : ''));
      if (width === 360 && await page.locator('.farmer > .strip').count() === 1 &&
          await page.locator('.farmer > .strip > li').count() <= 3 &&
          await page.locator('.strip .strip').count() === 0) {
        const box = await page.locator('.farmer > .strip').boundingBox();
        check(box.y + box.height <= first_screen, name, 'the answer is not on the first screen');
      }
      await page.evaluate(axe.source);
      const result = await page.evaluate(() => window.axe.run(document, {
        runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
        rules: { 'target-size': { enabled: true } },
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
          await page.addStyleTag({ content: '.farmer { display: none; } .evidence { break-before: auto !important; }' });
          const evidence = pages_in(await page.pdf({ format }));
          check(drenches > 3 || evidence <= 6, name,
                `the veterinarian's part takes ${evidence} pages of ${format} for ${drenches} drenches`);
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
