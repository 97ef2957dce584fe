// The report of a trial, and what can be kept of it.
import {announce, button, el, file_types, fileName, pageFrame, saveFile, waitingBox} from './parts.js';

const files = [
  ['Save report (HTML)', 'report', 'report.html', file_types.html],
  ['Letter to print (HTML)', 'letterPage', 'letter.html', file_types.html],
  ['Letter to edit (.docx)', 'letterDocument', 'letter.docx', file_types.docx],
  ['Results workbook (.xlsx)', 'workbook', 'results.xlsx', file_types.xlsx],
  ['Results CSV', 'csv', 'results.csv', file_types.csv],
  ['Results JSON', 'json', 'results.json', file_types.json],
  ['Counts table CSV', 'counts', 'counts.csv', file_types.csv],
];

/** `onstop` ends what the engine is at; `onagain` judges the table as it now stands. */
export function reportBox(trial, {onstop, onagain}) {
  const page = pageFrame('Report');
  let reply = null; // what is shown, with its files once they are made
  let old = false;

  const heading = el('h2', {tabindex: '-1'}, 'Report');
  const waiting = waitingBox('Working out the report', onstop);
  const forecast = waitingBox('A first answer is shown. Working out what a repeat of the test would tell', onstop);
  const note = el('div', {});
  const print = button('Print report', () => page.print(), {class: 'main'});
  const saves = files.map(([label, part, ending, type]) =>
    button(label, () => saveFile(`${fileName(trial.name)}-${ending}`, reply[part], type), {'data-part': part}));
  const tools = el('div', {class: 'row', role: 'group', 'aria-label': 'Keep the report'}, print, saves);
  const body = el('div', {class: 'judge-report'}, tools, page.frame);
  const box = el('section', {'aria-label': 'Report', hidden: true}, heading, waiting.box, forecast.box, note, body);

  const ready = () => reply !== null && !old;
  const enable = () => {
    print.disabled = !ready();
    for (const save of saves)
      save.disabled = !ready() || (reply[save.dataset.part] ?? null) === null;
  };

  /** Fold-outs that a reader opened stay open when the report is replaced by one like it. */
  function replace(html) {
    const opened = [...page.frame.contentDocument?.querySelectorAll('details') ?? []].map((each) => each.open);
    const loaded = new Promise((resolve) => { page.frame.addEventListener('load', resolve, {once: true}); });
    page.show(html);
    return loaded.then(() => {
      page.frame.contentDocument?.querySelectorAll('details').forEach((each, index) => {
        each.open = opened[index] ?? each.open;
      });
    });
  }

  return {
    box,
    heading,
    waiting,
    forecast,
    ready,
    /** While the table is being read there is nothing of it yet. */
    begin() {
      box.hidden = false;
      body.hidden = reply === null;
      note.replaceChildren();
    },
    /** Gives a promise of the report in sight. */
    show(shown) {
      const same = reply?.report === shown.report;
      reply = shown;
      old = false;
      box.hidden = false;
      body.hidden = false;
      body.inert = false;
      body.classList.remove('old');
      note.replaceChildren();
      enable();
      return same ? Promise.resolve() : replace(shown.report);
    },
    /** The table is no longer the one that this report tells of. */
    outdate(why, again = true) {
      if (reply === null || old)
        return;
      old = true;
      body.inert = true;
      body.classList.add('old');
      note.replaceChildren(el('p', {class: 'problem'}, `${why} `,
        again ? button('Judge the table as it now stands', onagain) : null));
      enable();
      announce(why);
    },
    clear() {
      reply = null;
      box.hidden = true;
    },
    say(...words) { note.replaceChildren(el('p', {class: 'told'}, ...words)); },
    print() { page.print(); },
    document: () => (ready() ? page.frame.contentDocument : null),
  };
}
