// Puts the page together: node build.mjs MODULE SCRIPT WORKER EXAMPLE OUT
//   MODULE  eggfall.mjs, which is asked for the inks and for what forms offer
//   SCRIPT  the page's script, and WORKER that of the engine's thread, each in one piece
import {createHash} from 'node:crypto';
import {readFileSync, writeFileSync} from 'node:fs';
import {pathToFileURL} from 'node:url';

const [module, scriptFile, workerFile, exampleFile, out] = process.argv.slice(2);
const here = new URL('.', import.meta.url);
const read = (file) => readFileSync(file, 'utf8');

const {default: load} = await import(pathToFileURL(module));
const eggfall = await load();
const {ink_properties, ok, problems, files, ...choices} = eggfall.choices();

// What would end a script early can stand in strings alone, where a backslash changes nothing.
const inScript = (text) => text.replaceAll('</script', '<\\/script').replaceAll('<!--', '<\\!--');
const script = inScript(read(scriptFile));
const digest = (text) => `'sha256-${createHash('sha256').update(text, 'utf8').digest('base64')}'`;

// The lesson's own script comes in a frame, which lives by this page's policy.
const lessonScript = (html) => [...html.matchAll(/<script>([^]*?)<\/script>/g)].map((found) => found[1]);
const lesson = eggfall.lesson().page;

const policy = [
  "default-src 'none'",
  `script-src ${[script, ...lessonScript(lesson)].map(digest).join(' ')} 'wasm-unsafe-eval'`,
  'worker-src blob:',
  "style-src 'unsafe-inline'",
  'img-src data: blob:',
  "form-action 'none'",
  "base-uri 'none'",
].join('; ');

const parts = {
  choices: JSON.stringify(choices).replaceAll('<', '\\u003c'),
  example: inScript(read(exampleFile)),
  policy,
  style: ink_properties + read(new URL('style.css', here)),
  engine: inScript(read(workerFile)),
  script,
};
const page = read(new URL('index.html', here)).replace(/\{\{(\w+)\}\}/g, (_, name) => parts[name]);
writeFileSync(out, page);
console.log(`${out}: ${(page.length / 1e6).toFixed(2)} MB`);
