// The module eggfall.mjs: the engine, and what passes to it and back (docs/browser.md).
import startEngine from './engine.mjs';
import packed from './engine-packed.js';

const number_size = 4;
const encoder = new TextEncoder();
const decoder = new TextDecoder();

const bytesOf = (bytesOrText) =>
  typeof bytesOrText === 'string' ? encoder.encode(bytesOrText)
    : bytesOrText instanceof Uint8Array ? bytesOrText
    : new Uint8Array(bytesOrText);

/** As framed() in src/web/frames.hpp: the number of texts, their lengths, the texts. */
function framed(texts) {
  const all = texts.reduce((sum, text) => sum + text.length, number_size * (texts.length + 1));
  const bytes = new Uint8Array(all);
  const numbers = new DataView(bytes.buffer);
  numbers.setUint32(0, texts.length, true);
  let position = number_size * (texts.length + 1);
  texts.forEach((text, i) => {
    numbers.setUint32(number_size * (i + 1), text.length, true);
    bytes.set(text, position);
    position += text.length;
  });
  return bytes;
}

function unframed(bytes) {
  const numbers = new DataView(bytes.buffer, bytes.byteOffset);
  const count = numbers.getUint32(0, true);
  let position = number_size * (count + 1);
  return Array.from({length: count}, (_, i) => {
    const length = numbers.getUint32(number_size * (i + 1), true);
    position += length;
    return bytes.subarray(position - length, position);
  });
}

const textOf = (bytes) => (bytes === undefined ? null : decoder.decode(bytes));

/** Takes names out of an object and gives what is left beside them. */
function parted(settings, names) {
  const rest = {...settings};
  const taken = {};
  for (const name of names) {
    taken[name] = rest[name];
    delete rest[name];
  }
  return [taken, rest];
}

class Eggfall {
  #engine;

  constructor(engine) {
    this.#engine = engine;
  }

  /** Told as work goes on: progress(done, all). Null: nobody is. */
  set progress(told) {
    this.#engine.progress = told;
  }

  /**
   * Any request of docs/browser.md. Gives the reply with `files`, bytes by name; a refusal has
   * `ok` false and `problems`.
   */
  ask(request, files = []) {
    const sent = framed([encoder.encode(JSON.stringify(request)), ...files.map(bytesOf)]);
    const engine = this.#engine;
    const place = engine._malloc(sent.length);
    if (place === 0) {
      throw new RangeError(`there is no memory for ${sent.length} bytes`);
    }
    let replied;
    try {
      engine.HEAPU8.set(sent, place);
      const position = engine._eggfall_answer(place, sent.length);
      // A copy: the engine's own memory moves when it grows.
      replied = engine.HEAPU8.slice(position, position + engine._eggfall_reply_size());
    } finally {
      engine._free(place);
    }
    const [json, ...bytes] = unframed(replied);
    const reply = JSON.parse(decoder.decode(json));
    reply.files = Object.fromEntries((reply.files ?? []).map((name, i) => [name, bytes[i]]));
    reply.problems ??= [];
    return reply;
  }

  /** One table, or a list of {name, bytes}; and what is said of it. */
  #askOfTables(request, tables, settings) {
    const [{name, larvae, larvaeName, larvaeSheet}, rest] =
      parted(settings, ['name', 'larvae', 'larvaeName', 'larvaeSheet']);
    const list = Array.isArray(tables) ? tables : [{name, bytes: tables}];
    const files = list.map((table) => table.bytes);
    const asked = {request, ...rest, tables: list.map((table, file) => ({name: table.name, file}))};
    if (larvae !== undefined && larvae !== null) {
      asked.larvae = {name: larvaeName, sheet: larvaeSheet, file: files.length};
      files.push(larvae);
    }
    return this.ask(asked, files);
  }

  /** What a table is taken for: `columns`, `rows`, `counts` (CSV), lines `understood` and `told`. */
  understand(bytesOrText, settings = {}) {
    const {files, ...reply} = this.#askOfTables('understand', bytesOrText, settings);
    return {...reply, counts: textOf(files['counts.csv'])};
  }

  /** From a table to verdicts: `json`, `report`, `letterPage`, `csv`, `counts`, `summary` (texts),
   *  `letterDocument` and `workbook` (bytes). */
  analyse(bytesOrText, settings = {}) {
    const {files, ...reply} = this.#askOfTables('analyse', bytesOrText, settings);
    return {
      ...reply,
      json: textOf(files['analysis.json']),
      report: textOf(files['report.html']),
      letterPage: textOf(files['letter.html']),
      letterDocument: files['letter.docx'] ?? null,
      workbook: files['results.xlsx'] ?? null,
      csv: textOf(files['results.csv']),
      counts: textOf(files['counts.csv']),
      summary: textOf(files['summary.txt']),
    };
  }

  /** Many trials together: `json`, `text`, `rows` and `years` (CSV), and the page `report` (texts). */
  survey(tables, settings = {}) {
    const {files, ...reply} = this.#askOfTables('survey', tables, settings);
    return {
      ...reply,
      json: textOf(files['survey.json']),
      report: textOf(files['survey.html']),
      text: textOf(files['survey.txt']),
      rows: textOf(files['rows.csv']),
      years: textOf(files['years.csv']),
    };
  }

  /** Which design can answer: `report`, `json` and `csv` (texts). */
  plan(wish) {
    const {files, ...reply} = this.ask({request: 'plan', ...wish});
    return {
      ...reply,
      report: textOf(files['plan.html']),
      json: textOf(files['plan.json']),
      csv: textOf(files['plan.csv']),
    };
  }

  /** Sheets to print, `page`, and the `counts` table to fill in (texts). */
  sheets(wish, list = null) {
    const {files, ...reply} =
      this.ask({request: 'sheets', ...wish, listed: list !== null}, list === null ? [] : [list]);
    return {...reply, page: textOf(files['sheets.html']), counts: textOf(files['counts.csv'])};
  }

  /** The bench calculator: `factor`, `suspension_ml` and so on. */
  factor(bench) {
    return this.ask({request: 'factor', ...bench});
  }

  /** What forms offer: hosts, classes, criteria, lessons. */
  choices() {
    return this.ask({request: 'choices'});
  }

  /** Invented tests with a known `truth` (JSON): `counts` and `larvae` (CSV, or null). */
  simulate(wish) {
    const {files, ...reply} = this.ask({request: 'simulate', ...wish});
    return {
      ...reply,
      counts: textOf(files['counts.csv']),
      truth: textOf(files['truth.json']),
      larvae: textOf(files['larvae.csv']),
    };
  }

  /** The page of sliders (text). */
  lesson() {
    const {files, ...reply} = this.ask({request: 'lesson'});
    return {...reply, page: textOf(files['lesson.html'])};
  }
}

async function unpacked(base64) {
  const text = atob(base64);
  const bytes = new Uint8Array(text.length);
  // A loop: Uint8Array.from() takes ten times as long for millions of characters.
  for (let i = 0; i < text.length; i++)
    bytes[i] = text.charCodeAt(i);
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('gzip'));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}

/** @returns {Promise<Eggfall>} */
export default async function load() {
  return new Eggfall(await startEngine({wasmBinary: await unpacked(packed)}));
}
