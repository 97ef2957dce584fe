// One trial on the screen: its table, what is asked about it, and its report.
import {ask, askApart, stop} from './engine.js';
import {announce, button, counted, el, inQuotes, problemBox} from './parts.js';
import {Grid} from './grid.js';
import {cellsOf, csvOf} from './separated.js';
import {deleteTrial, isTooLarge, keepTrial} from './judge_trials.js';
import {contentOf, keptFile} from './kept_file.js';
import {openText} from './judge_start.js';
import {answersBox, askedRole, factorBox, groupsBox, lacksFactor, problemWords, questionBox, unitsBox}
  from './judge_questions.js';
import {headingBox, larvaeBox, settingsBox} from './judge_settings.js';
import {sizeWords, understoodBox} from './judge_understood.js';
import {reportBox} from './judge_report.js';

const pause_before_judging = 1200; // milliseconds after the last cell was mended
const pause_before_keeping = 400;
const pause_before_waiting_shows = 250;

const no_work = () => ({cells: 0, rows: 0, filled: {}, mends: []});

/** Names are compared in one form, as the engine does. */
const plain = (name) => name.normalize('NFC').replace(/\s+/g, ' ').trim();

const follows = ['group', 'drench', 'class', 'host', 'role'];

const further_columns = [
  ['role', 'role (control, if untreated)'], ['drench', 'drench'], ['class', 'class'], ['host', 'host'],
  ['weight_kg', 'weight, kg'], ['dose_ml', 'dose given, mL'], ['label_ml_per_kg', 'label rate, mL per kg'],
  ['label_mg_per_kg', 'label rate, mg per kg'], ['mg_per_ml', 'strength of the drench, mg per mL'],
  ['date_before', 'date of the first sample'], ['date_treated', 'date of treatment'],
  ['date_after', 'date of the second sample'], ['days_after', 'days from treatment to the second sample'],
  ['factor_before', 'factor before'], ['factor_after', 'factor after'],
  ['animals_in_pool', 'animals in the pool'], ['worm', 'worm'], ['trial', 'trial'],
];

const headPlain = (name) => name.replaceAll('_', ' ').toLowerCase();
const columnAt = (columns, name) => columns.findIndex((column) => headPlain(column) === headPlain(name));

const most_mends_told = 20;
const cellWords = (cell) => (cell === '' ? 'empty' : inQuotes(cell));

/** What was done to the table by hand, for the report. */
function workLines(work) {
  const lines = [];
  const mends = work?.mends ?? [];
  for (const {where, column, from, to} of mends.slice(0, most_mends_told))
    lines.push(`mended by hand in the page: ${where}, ${column}: ${cellWords(from)} became ${cellWords(to)}`);
  const more = (work?.cells ?? 0) - Math.min(mends.length, most_mends_told);
  if (more > 0)
    lines.push(`${counted(more, 'cell')} ${mends.length ? 'more ' : ''}mended by hand in the page`);
  if (work?.rows)
    lines.push(`${counted(work.rows, 'row')} taken out by hand in the page`);
  return [...lines, ...Object.values(work?.filled ?? {})];
}

/** Columns of a sheet that has no heads of ours. */
const lettered = (count) => Array.from({length: count}, (_, index) =>
  (index >= 26 ? String.fromCharCode(64 + Math.floor(index / 26)) : '') + String.fromCharCode(65 + (index % 26)));

function squared(rows) {
  const width = Math.max(1, ...rows.map((row) => row.length));
  return rows.map((row) => [...row, ...Array(width - row.length).fill('')]);
}

/** Keeps the focus on the control of the same name when a box is drawn anew. */
function redraw(place, box) {
  const name = place.contains(document.activeElement) ? document.activeElement.name : '';
  const open = [...place.querySelectorAll('details')].map((details) => details.open);
  place.replaceChildren(...(box ? [box] : []));
  place.querySelectorAll('details').forEach((details, index) => { details.open ||= open[index] ?? false; });
  if (name)
    [...place.querySelectorAll('[name]')].find((control) => control.name === name)?.focus();
}

const headlineOf = (each) => [each.standing?.class, each.verdicts?.[0]?.class];

function readResult(json) {
  const groups = JSON.parse(json).trials.flatMap((trial) => trial.groups);
  const all = groups.flatMap((group) => [group, ...group.worms ?? []]);
  const doubts = all.flatMap((each) => each.standing?.bars ?? []).filter(({code}) => code === 'units-in-doubt');
  return {
    inconclusive: all.some((each) => headlineOf(each).includes('inconclusive')),
    unitsInDoubt: [...new Set(doubts.map(({text}) => text))],
  };
}

export class TrialScreen {
  #turn = 0;
  #timer = null;
  #keepTimer = null;
  #form = 'counts';
  #base = null; // the table as the engine took it, before anything was mended
  #baseCounts = null;
  #understood = null;
  #asked = {hosts: new Set(), classes: new Set()};
  #forecast = null; // the engine's thread of its own, while it is at what a repeat would tell
  #lookedAt = false;
  #unreadable = false; // nothing of it can be kept or mended here

  constructor(trial) {
    this.trial = trial;
    this.#makeParts();
    const {name, origin} = trial;
    this.heading = el('h2', {tabindex: '-1'}, name);
    this.box = el('div', {},
      el('p', {}, el('a', {href: '#judge', class: 'judge-back'}, 'All trials, or another table')),
      this.heading,
      el('p', {class: 'hint'}, this.#keptWords(origin)),
      el('div', {class: 'row judge-state'}, this.status, this.toReport),
      this.places.problem, this.places.question, this.places.units, this.places.groups, this.places.given,
      this.places.understood, this.counts, el('div', {class: 'row'}, this.judgeButton),
      this.places.larvae, this.places.heading, this.places.settings, this.report.box);
  }

  #makeParts() {
    const {trial} = this;
    this.places = Object.fromEntries(
      ['problem', 'question', 'units', 'groups', 'given', 'understood', 'larvae', 'heading', 'settings']
        .map((name) => [name, el('div', {})]));
    this.grid = new Grid('Counts', {onchange: (state) => this.#mended(state)});
    this.grid.pasted = (block, text) => this.#pastedTable(block, text);
    this.gridHint = el('p', {class: 'hint'});
    this.gridMore = el('div', {class: 'row'});
    this.gridSummary = el('summary', {}, 'The counts');
    this.counts = el('details', {class: 'judge-counts'}, this.gridSummary, this.gridHint,
      this.gridMore, this.grid.box);
    this.judgeButton = button('Judge this trial', () => this.#work({press: true}), {class: 'main'});
    this.toReport = button('To the report', () => this.#goToReport(), {hidden: true});
    this.status = el('span', {role: 'status', tabindex: '-1'});
    this.report = reportBox(trial, {onstop: () => this.#stopped(), onagain: () => this.#work({press: true})});
  }

  #keptWords({kind, files, dropped}) {
    const from = dropped ? 'Its file was large, so the counts table it was taken for is what is kept. '
      : kind === 'typed' ? 'Typed into this page. '
      : kind === 'paste' ? 'Pasted into this page. '
      : kind === 'handed' ? 'Handed over by another room of this page. '
      : kind === 'example' ? 'An invented trial: no such farm. '
      : `From ${files.map((file) => file.name).join(' and ')}. `;
    const large = isTooLarge(this.trial)
      ? 'It is large: once this page is closed, only the counts table it is taken for is kept.'
      : 'Kept in this browser as you work, also when the page is closed.';
    return from + large;
  }

  // What the room asks of its screen.

  begin() {
    const {grid, sheet} = this.trial;
    if (grid)
      this.#showGrid(grid.form, {columns: grid.columns, rows: grid.rows, work: grid.work});
    else if (sheet)
      this.#showSheet(sheet);
    this.counts.hidden = !grid && !sheet;
    this.counts.open = Boolean(grid || sheet);
    this.#drawSettings();
    this.#drawGiven();
    if (this.trial.judged)
      this.#work();
    else
      this.#showTools();
    this.#lookedAt = Boolean(grid);
  }

  /** Where a user who came here goes on. */
  enter() {
    if (this.trial.judged)
      this.heading.focus();
    else
      this.grid.go(0, 0);
  }

  leave() {
    this.grid.settle();
    if (this.#unreadable)
      deleteTrial(this.trial.id);
    else if (this.#keepTimer)
      this.#keep();
    this.#turn += 1;
    clearTimeout(this.#timer);
    this.#endForecast();
  }

  #endForecast() {
    this.#forecast?.stop();
    this.#forecast = null;
  }

  /** With what is being typed, for there may be no later. */
  keepNow() {
    this.grid.settle();
    this.#keep();
  }

  #keep() {
    if (this.#unreadable)
      return;
    clearTimeout(this.#keepTimer);
    this.#keepTimer = null;
    const {columns, rows} = this.#base ?? {};
    keepTrial(this.trial, this.#base && {columns, rows, reading: this.#understood?.understood ?? []});
  }

  /** Whether there was a report to print. */
  printsReport() {
    if (!this.report.ready())
      return false;
    this.report.print();
    return true;
  }

  printable() { return this.report.document(); }

  takeBack(forward) {
    if (forward)
      this.grid.redo();
    else
      this.grid.undo();
  }

  // The table.

  #showGrid(form, state) {
    this.#form = form;
    this.grid.show({...state, work: state.work ?? no_work()},
      {follows: form === 'sheet' ? [] : follows});
    this.#showTools();
  }

  #showSheet({rows, work}) {
    const square = squared(rows);
    this.#showGrid('sheet', {columns: lettered(square[0]?.length ?? 1), rows: square, work});
  }

  #showTools() {
    const {rows} = this.grid.state;
    this.gridSummary.textContent = {
      typed: 'The counts: type them in',
      sheet: 'The table as it came: mend it here',
      counts: `The counts it was taken for, to look at and to mend: ${counted(rows.length, 'row')}`,
    }[this.#form];
    this.gridHint.textContent = {
      typed: 'A row for each animal; leave a count empty where an animal was not sampled. A row begun without a ' +
        'group takes the group, drench, class and role of the row above. Untreated animals: "control" under role.',
      sheet: 'Nothing of it was understood so far. Mend the cells that are marked, then judge it again.',
      counts: 'Eggs seen under the microscope, and the factor: eggs per gram for each egg seen. A mended cell ' +
        'is told in the report.',
    }[this.#form];
    this.gridMore.replaceChildren(...[this.#keys(), this.#unitSelect(), this.#columnSelect(), this.#asItCame()]
      .filter(Boolean));
  }

  #keys() {
    return el('p', {class: 'hint grid-keys'}, 'By keyboard: Enter goes into the table; there Tab, Enter and ' +
      'arrows move as in a spreadsheet, and Escape leaves it.');
  }

  #unitSelect() {
    if (this.#form !== 'typed')
      return null;
    const isEpg = this.grid.state.columns.some((column) => column.startsWith('epg'));
    const select = el('select', {'aria-label': 'The counts are', class: 'narrow', name: 'unit'},
      el('option', {value: 'eggs', selected: !isEpg}, 'Eggs seen under the microscope'),
      el('option', {value: 'epg', selected: isEpg}, 'Eggs per gram (EPG)'));
    select.addEventListener('change', () => this.#renameCounts(select.value));
    return select;
  }

  #renameCounts(unit) {
    const {columns, rows, work} = this.grid.state;
    this.grid.change({rows, work, columns: columns.map((column) => column.replace(/^(eggs|epg)(?=[ _])/, unit))});
    this.#showTools();
  }

  #columnSelect() {
    if (this.#form === 'sheet')
      return null;
    const {columns} = this.grid.state;
    const select = el('select', {'aria-label': 'Add a column', class: 'narrow'},
      el('option', {value: ''}, 'Add a column...'),
      further_columns.filter(([name]) => columnAt(columns, name) < 0)
        .map(([name, words]) => el('option', {value: name}, words)));
    select.addEventListener('change', () => {
      const state = this.#withColumn(this.grid.state, select.value);
      this.grid.change(state, `Column "${select.value}" added.`);
      this.#showTools();
    });
    return select;
  }

  #withColumn({columns, rows, work}, name) {
    return {columns: [...columns, name], rows: rows.map((row) => [...row, '']), work};
  }

  #asItCame() {
    const {trial} = this;
    if (trial.origin.files.length === 0 || !(trial.grid || trial.sheet))
      return null;
    return button('Back to the table as it came', () => {
      if (!confirm('Drop all that was mended by hand in this table?'))
        return;
      trial.grid = null;
      trial.sheet = null;
      trial.answers = trial.answers.filter((answer) => answer.form === 'origin');
      this.#base = null;
      this.#work({press: true});
    });
  }

  #mended(state) {
    const {trial} = this;
    if (this.#form === 'sheet') {
      trial.sheet = {rows: state.rows, work: state.work};
    } else if (state === this.#base) {
      trial.grid = null;
    } else {
      if (!trial.grid)
        trial.reading = this.#understood?.understood ?? [];
      trial.grid = {form: this.#form, ...state};
    }
    this.#showSize();
    this.#changed('This report is of the table before your change.', pause_before_judging);
  }

  #showSize() {
    if (this.#form === 'counts')
      this.#showTools();
  }

  /** A whole table pasted into an empty one, header row and all, is read and not spread over cells. */
  #pastedTable(block, text) {
    const {trial} = this;
    const untouched = this.#form === 'typed' && this.grid.state.rows.flat().every((cell) => cell === '');
    const hasNumber = block[0].some((cell) => /^\s*[\d.,]+\s*$/.test(cell));
    if (!untouched || block.length < 2 || block[0].length < 2 || hasNumber)
      return false;
    trial.origin = {kind: 'paste', files: [{name: 'pasted table.csv', text}]};
    trial.grid = null;
    announce('The pasted table has a header row of its own, so it is read as a table.');
    this.#work({press: true});
    return true;
  }

  // What is sent to the engine.

  #source() {
    const {grid, sheet, origin} = this.trial;
    if (grid)
      return csvOf([grid.columns, ...grid.rows]);
    if (sheet)
      return csvOf(sheet.rows);
    if (origin.files.length === 1)
      return contentOf(origin.files[0]);
    return origin.files.map((file) => ({name: file.name, bytes: contentOf(file)}));
  }

  #answersNow() {
    const form = this.trial.grid?.form ?? 'origin';
    return this.trial.answers.filter((answer) => answer.form === form);
  }

  #settings() {
    const {trial} = this;
    const {one, before, after} = trial.factor;
    const ending = trial.grid || trial.sheet ? '.csv' : /\.[^.]*$/.exec(trial.origin.files[0].name)?.[0] ?? '.csv';
    const settings = {name: trial.name + ending, settings: this.#answersNow().flatMap((answer) => answer.settings)};
    for (const [key, value] of Object.entries({factor: one, factorBefore: before, factorAfter: after}))
      if (value !== undefined)
        settings[key] = value;
    return settings;
  }

  #analysisSettings() {
    const {larvae, choices, heading, grid, sheet, reading} = this.trial;
    const {cutOffs, ...chosen} = choices;
    const settings = {...this.#settings(), ...chosen, heading};
    if (cutOffs)
      settings.cutOffs = cutOffs.text;
    if (larvae)
      Object.assign(settings, {larvae: contentOf(larvae), larvaeName: larvae.name});
    if (grid?.form === 'typed')
      settings.reading = ['typed into the page by hand'];
    else if (grid)
      settings.reading = [...reading, ...workLines(grid.work)];
    else if (sheet)
      settings.reading = workLines(sheet.work);
    return settings;
  }

  // The work.

  /** Something that the report depends on is another now. */
  #changed(why, pause = 0) {
    this.#turn += 1;
    this.#keepSoon();
    this.report.outdate(why);
    this.judgeButton.hidden = false;
    if (this.trial.judged)
      this.status.textContent = 'Changed, and not judged again yet.';
    clearTimeout(this.#timer);
    if (!this.trial.judged)
      return;
    if (pause > 0)
      this.#timer = setTimeout(() => this.#work({quiet: true}), pause);
    else
      this.#work();
  }

  /** `press`: a user waits for it, so what comes up takes the focus; `quiet`: nobody is to be disturbed. */
  async #work({press = false, quiet = false} = {}) {
    clearTimeout(this.#timer);
    this.grid.settle();
    clearTimeout(this.#timer);
    const turn = ++this.#turn;
    this.#endForecast();
    const isLatest = () => turn === this.#turn;
    const {waiting} = this.report;
    this.trial.judged = true;
    this.report.begin();
    this.report.outdate('The report is being worked out anew.', false);
    this.report.forecast.end();
    this.status.textContent = 'Reading the table...';
    const slow = setTimeout(() => waiting.start(), pause_before_waiting_shows);
    try {
      const source = this.#source();
      const settings = this.#analysisSettings();
      const understanding = ask('understand', [source, this.#settings()]);
      // Sent at once, so that the engine never waits for the page; refused as fast, if it must be.
      const judging = ask('analyse', [source,
        {...settings, simulations: 0, wanted: ['report.html', 'analysis.json']}],
      (done, all) => isLatest() && waiting.progress(done, all));
      judging.catch(() => {});
      const understood = await understanding;
      if (!isLatest())
        return;
      this.#showUnderstood(understood);
      if (!understood.ok) {
        this.report.clear();
        return this.#ask(understood, {press, quiet});
      }
      const first = await judging;
      if (!isLatest())
        return;
      clearTimeout(slow);
      waiting.end();
      // Two tasks at once would keep the reader waiting.
      await this.#showResult(first, press);
      if (first.ok && isLatest())
        await this.#workFully(source, settings, first, isLatest);
    } catch (error) {
      if (isLatest())
        this.#brokeOff(error);
    } finally {
      clearTimeout(slow);
      if (isLatest()) {
        waiting.end();
        this.report.forecast.end();
      }
    }
  }

  /** The files to keep; and the forecasts of a repeat, where there are inconclusive groups. */
  async #workFully(source, settings, first, isLatest) {
    if (!readResult(first.json).inconclusive)
      return this.#showLast(await ask('analyse', [source, {...settings, simulations: 0}]), isLatest);
    const {forecast} = this.report;
    forecast.start();
    // It may take minutes, and other rooms ask the engine too.
    this.#forecast = askApart('analyse', [source, settings],
      (done, all) => isLatest() && forecast.progress(done, all));
    const full = await this.#forecast.reply;
    if (!isLatest())
      return;
    this.#forecast = null;
    this.#showLast(full, isLatest);
    // Of a region's many groups the engine leaves it out.
    if (full.ok && JSON.parse(full.json).settings.simulations > 0)
      announce('The report now tells what a repeat of the test would show.');
  }

  #showLast(reply, isLatest) {
    if (isLatest())
      this.report.show(reply);
  }

  /** The first answer stays, with its files, and without forecasts. */
  async #stopped() {
    const turn = ++this.#turn;
    const {waiting, forecast} = this.report;
    waiting.end();
    forecast.end();
    const again = button('Work it out', () => this.#work({press: true}));
    if (!this.#forecast) {
      stop();
      this.report.say('Stopped. ', again);
      this.status.textContent = 'Stopped.';
      return;
    }
    this.#endForecast();
    const reply = await ask('analyse', [this.#source(), {...this.#analysisSettings(), simulations: 0}]);
    if (turn !== this.#turn)
      return;
    this.report.show(reply);
    this.report.say('Stopped: this report does not tell what a repeat of the test would show. ', again);
  }

  #brokeOff(error) {
    this.status.textContent = '';
    if (error.name === 'stopped')
      return this.report.say('Stopped. ', button('Judge this trial', () => this.#work({press: true})));
    this.report.clear();
    redraw(this.places.problem, problemBox([{message: 'The engine broke off, perhaps for want of memory: ' +
      `${error.message}. Close other pages and try again, or try a smaller table.`}], 'This could not be worked out'));
    this.places.problem.firstChild.focus();
  }

  // What came of it.

  #showUnderstood(reply) {
    this.#understood = reply.ok ? reply : null;
    this.#unreadable = false;
    redraw(this.places.problem, null);
    redraw(this.places.question, null);
    if (!reply.ok) {
      this.places.understood.replaceChildren();
      redraw(this.places.groups, null);
      redraw(this.places.units, null);
      this.#drawGiven();
      return;
    }
    const shownAlready = this.grid.state === this.#base && reply.counts === this.#baseCounts;
    if (!this.trial.grid && !shownAlready) {
      this.#showGrid('counts', {columns: reply.columns, rows: reply.rows});
      this.#base = this.grid.state;
      this.#baseCounts = reply.counts;
      this.counts.hidden = false;
      if (!this.#lookedAt)
        this.counts.open = reply.understood.length > 0;
    }
    this.grid.mark([]);
    redraw(this.places.understood, understoodBox(this.#withWork(reply)));
    this.#lookedAt = true;
    this.#drawGroups(reply.groups);
    this.#drawGiven();
    this.#showTools();
    if (isTooLarge(this.trial))
      this.#keepSoon();
  }

  /** A mended table is read as it stands; how it came about is still what matters. */
  #withWork(reply) {
    const {grid, reading} = this.trial;
    if (grid?.form !== 'counts' || !reading?.length)
      return reply;
    return {...reply, understood: reading, told: [...reading, ...workLines(grid.work)]};
  }

  #drawGroups(groups) {
    const key = (group) => `${group.trial}\n${group.name}`;
    for (const group of groups) {
      // What was answered here can be answered otherwise, also after the page was closed.
      const answered = (name) => `${name} ${group.trial} ${group.name}` in (this.trial.grid?.work?.filled ?? {});
      if (group.host === '' || answered('host'))
        this.#asked.hosts.add(key(group));
      if (group.treated && (group.classes.length === 0 || answered('class')))
        this.#asked.classes.add(key(group));
    }
    const asked = {
      hosts: groups.filter((group) => this.#asked.hosts.has(key(group))),
      classes: groups.filter((group) => group.treated && this.#asked.classes.has(key(group))),
    };
    redraw(this.places.groups, groupsBox(asked, {
      onhost: (some, host) => this.#fill('host', some, host),
      onclass: (group, classes) => this.#fill('class', [group], classes),
    }));
  }

  /** Puts an answer into the rows of its groups. */
  #fill(name, groups, value) {
    let state = this.grid.state;
    if (columnAt(state.columns, name) < 0)
      state = this.#withColumn(state, name);
    const {columns} = state;
    const [changedAt, groupAt, trialAt] = [name, 'group', 'trial'].map((column) => columnAt(columns, column));
    const ours = (row) => groups.some((group) => plain(row[groupAt] ?? '') === group.name &&
      (trialAt < 0 || plain(row[trialAt]) === '' || plain(row[trialAt]) === group.trial));
    const rows = state.rows.map((row) =>
      (ours(row) ? row.map((cell, index) => (index === changedAt ? value : cell)) : row));
    const filled = {...state.work.filled};
    for (const group of groups)
      filled[`${name} ${group.trial} ${group.name}`] = value === ''
        ? `${name} of "${group.name}" not known, as said in the page`
        : `${name} of "${group.name}" given in the page: ${value}`;
    this.grid.change({columns, rows, work: {...state.work, filled}});
    this.#work();
  }

  #drawGiven() {
    const given = this.#answersNow();
    const {one, before, after} = this.trial.factor;
    const settings = Object.entries({factor: one, 'factor-before': before, 'factor-after': after})
      .filter(([, value]) => value !== undefined).map(([key, value]) => ({key, value: String(value)}));
    const takenBack = given.map((answer) => () => {
      this.trial.answers = this.trial.answers.filter((each) => each !== answer);
    });
    const all = [...given];
    if (settings.length) {
      all.push({means: '', settings});
      takenBack.push(() => { this.trial.factor = {}; });
    }
    if (this.trial.choices.unitsConfirmed) {
      all.push({means: 'the counts are as the table says, though they look otherwise', settings: []});
      takenBack.push(() => {
        this.trial.choices.unitsConfirmed = false;
        this.#drawSettings();
      });
    }
    redraw(this.places.given, answersBox(all, (index) => {
      takenBack[index]();
      this.report.outdate('You took an answer back.', false);
      this.#keepSoon();
      this.#work({press: true});
    }));
  }

  /** A question, the factor, or what must be mended. */
  #ask(reply, {press, quiet}) {
    this.toReport.hidden = true;
    const lacks = lacksFactor(reply);
    const asked = reply.kind === 'question' ? reply : askedRole(reply);
    this.status.textContent = lacks || asked ? 'The page has a question about the table.'
      : 'The table needs mending before it can be judged.';
    if (lacks)
      redraw(this.places.question, factorBox(lacks, this.trial.factor, (factor) => this.#answered(() => {
        this.trial.factor = {...this.trial.factor, ...factor};
      })));
    else if (asked)
      redraw(this.places.question, questionBox(asked, this.#headsOf(asked.problems[0]),
        ({means, settings}) => this.#answered(() => {
          const form = this.trial.grid?.form ?? 'origin';
          this.trial.answers = [...this.trial.answers, {form, means, settings}];
        })));
    else
      this.#showProblems(reply);
    this.judgeButton.hidden = this.counts.hidden;
    this.#unreadable = !lacks && !asked && this.counts.hidden;
    const box = this.places.question.firstChild ?? this.places.problem.firstChild;
    if (press || !quiet)
      box?.focus();
  }

  #answered(take) {
    take();
    this.#keepSoon();
    this.#work({press: true});
  }

  #showProblems(reply) {
    const {grid, origin} = this.trial;
    const messages = reply.problems.map((problem) => ({message: problemWords(problem)}));
    if (!grid)
      this.#showAsItCame();
    const cells = this.counts.hidden ? [] : reply.problems.map((problem) => this.#cellOf(problem));
    const box = problemBox(messages, 'The table needs mending');
    box.querySelectorAll('li').forEach((item, index) => {
      if (cells[index])
        item.append(' ', button(`Go to row ${cells[index].row + 1}`, () => this.#goToCell(cells[index])));
    });
    this.grid.mark(cells.map((cell, index) => cell && {...cell, text: messages[index].message}).filter(Boolean));
    box.append(el('p', {}, this.counts.hidden
      ? 'Mend it where the file was made, then choose it again; or copy its cells there and paste them here. '
      : 'Mend it in the table below, then judge it again. '),
    ...(origin.kind === 'typed' ? [] : [el('a', {href: '#judge'}, 'Choose another table')]));
    redraw(this.places.problem, box);
  }

  /** A table that is text can be mended here, cell by cell. */
  #showAsItCame() {
    const {origin, sheet} = this.trial;
    const [file, another] = origin.files;
    const text = another ? undefined : file?.text;
    const rows = sheet?.rows ?? (text?.trim() ? cellsOf(text.replace(/^\uFEFF/, '')) : []);
    this.counts.hidden = rows.length === 0;
    if (rows.length === 0)
      return;
    this.#showSheet({rows, work: sheet?.work});
    this.#base = null;
    this.counts.open = true;
  }

  #cellOf({line, column, column_name}) {
    const {columns, rows} = this.grid.state;
    const row = line - (this.#form === 'sheet' ? 1 : 2);
    const position = column > 0 ? column - 1 : Math.max(0, columnAt(columns, column_name ?? ''));
    return line > 0 && row >= 0 && row < rows.length && position < columns.length ? {row, column: position} : null;
  }

  #goToCell({row, column}) {
    this.counts.open = true;
    this.counts.scrollIntoView({block: 'nearest'});
    this.grid.go(row, column);
  }

  /** What columns may be called, for a question that wants one of them. */
  #headsOf({line}) {
    const {grid, sheet, origin} = this.trial;
    const rows = grid ? [grid.columns] : sheet?.rows ?? cellsOf(origin.files[0]?.text ?? '');
    return (rows[Math.max(0, (grid ? 1 : line) - 1)] ?? []).map((head) => head.trim()).filter(Boolean);
  }

  #showResult(reply, press) {
    if (!reply.ok) {
      this.report.clear();
      this.toReport.hidden = true;
      this.status.textContent = 'This could not be judged.';
      redraw(this.places.problem, problemBox(reply.problems.map((problem) => ({message: problemWords(problem)})),
        'This cannot be judged as it stands'));
      this.places.problem.firstChild.focus();
      return;
    }
    const {unitsInDoubt} = readResult(reply.json);
    const inSight = this.report.show(reply);
    redraw(this.places.units, unitsBox(unitsInDoubt, {
      onepg: () => {
        this.#renameCounts('epg');
        this.#work({press: true});
      },
      oneggs: () => {
        this.trial.choices.unitsConfirmed = true;
        this.#drawSettings();
        this.#changed('You said what the counts are.');
      },
    }));
    this.toReport.hidden = false;
    this.judgeButton.hidden = true;
    this.judgeButton.textContent = 'Judge it again';
    this.status.textContent = `${sizeWords(reply.groups)}: the report is below.`;
    if (press)
      this.#goToAnswer(reply.groups);
    return inSight;
  }

  /** What is in doubt or missing comes before the report. */
  #goToAnswer(groups) {
    const missing = groups.some((group) => group.host === '' || (group.treated && group.classes.length === 0));
    const first = this.places.units.firstChild ?? (missing ? this.places.groups.firstChild : null);
    if (!first)
      return this.#goToReport();
    first.focus();
  }

  #goToReport() {
    this.report.box.scrollIntoView();
    this.report.heading.focus({preventScroll: true});
  }

  #drawSettings() {
    const {trial} = this;
    const changed = (why) => () => {
      this.#drawSettings();
      this.#changed(why);
    };
    redraw(this.places.heading, headingBox(trial, () => this.#changed('The heading was changed.')));
    redraw(this.places.settings, settingsBox(trial, changed('The settings were changed.')));
    redraw(this.places.larvae, larvaeBox(trial, async (file) => {
      trial.larvae = file && await keptFile(file);
      changed(file ? 'Larvae were added.' : 'The larvae were left out.')();
    }));
  }

  #keepSoon() {
    clearTimeout(this.#keepTimer);
    this.#keepTimer = setTimeout(() => this.#keep(), pause_before_keeping);
  }
}
