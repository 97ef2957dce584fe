// Many farms: the tables of many trials at once, the verdicts counted, and each farm's years.
import {askApart} from './engine.js';
import {choices} from './choices.js';
import {choiceBox, fillIn, readAll, tend, textsOf, ticksBox} from './form.js';
import {keep, recall} from './kept.js';
import {announce, button, counted, el, fileButton, fileName, file_types, pageFrame, problemBox, saveFile, takesDroppedFiles,
  waitingBox} from './parts.js';
import {answersBox, askedRole, factorBox, lacksFactor, problemWords, questionBox} from './judge_questions.js';
import {bewareBox, sharesBox, yearsBox} from './farms_result.js';
import {printsInstead} from './print_page.js';
import {markRoom, placeIn, showView, viewHeading} from './views.js';

const room = 'farms';
const answer_place = `#${room}/answer`;
const form_kept_as = 'farms-form';
const names_kept_as = 'farms-tables';

/** More does not fit beside the engine's own copies of it in the memory of most phones. */
const most_bytes = 200e6;
const megabytes = (bytes) => `${(bytes / 1e6).toFixed(0)} MB`;

const breakdowns = [['class', 'drug class'], ['host', 'kind of animal'], ['worm', 'worm'], ['region', 'region'],
  ['year', 'year'], ['region,year', 'region and year together'], ['class,year', 'drug class and year together'],
  ['drench', 'drench, as written'], ['farm', 'farm']];

function settingsForm() {
  const boxes = [
    choiceBox({name: 'criteria', label: 'Criteria to judge by',
      choices: [['', 'the usual ones'], ...choices.criteria.map(({name, title}) => [name, title])]}),
    ticksBox({name: 'by', label: 'Count apart', choices: breakdowns,
      hint: 'None ticked: by class, host, worm, region and year, each alone.'}),
  ];
  fillIn(boxes, recall(form_kept_as));
  const box = el('details', {class: 'farms-settings'}, el('summary', {}, 'Settings'), boxes.map((each) => each.box));
  tend(box, () => boxes, () => keep(form_kept_as, textsOf(boxes)));
  return {box, boxes, read: () => readAll(boxes)};
}

class Room {
  #tables = []; // {name, bytes}, as long as the page is open
  #answers = []; // to questions about the tables
  #factor = {};
  #confirmed = false; // the counts are eggs seen, though they do not look like it
  #run = null;
  #reply = null;
  #form = settingsForm();
  #said = el('div', {});
  #asked = el('div', {});
  #given = el('div', {});
  #last = el('div', {});
  #heading = viewHeading();
  #result = el('div', {});
  #reportHeading = el('h3', {tabindex: '-1'}, 'The whole report');
  #frame = pageFrame('Report of many farms');
  #waiting = waitingBox('Judging all trials', () => this.#run?.stop());
  #again = button('Count again with these settings', () => this.#survey(), {hidden: true});
  #start = this.#startView();
  #answerView = this.#makeAnswerView();
  views = [this.#start, this.#answerView];
  work = el('div', {class: 'work'}, this.#waiting.box);

  #startView() {
    return el('div', {},
      viewHeading('Many farms'),
      el('p', {}, 'Bring the counts of many farms, or of one farm over years: how many drenches were tested, ' +
        'how many failed, and on which farms does a drench slip? Every group is judged as under "Judge a trial".'),
      el('div', {class: 'judge-drop'},
        el('p', {}, el('strong', {}, 'Drop one or several tables anywhere here'), ': CSV, .xlsx or .ods, ',
          'with a column trial or farm, and where you have them class, host, worm, region and year. A table above ',
          '1 MB must have the names of a counts table, and the rows of a trial together.'),
        el('div', {class: 'row'}, fileButton('Choose tables', (files) => this.take(files), {multiple: true}),
          this.#again),
        this.#last),
      this.#form.box, this.#said, this.#asked, this.#given,
      el('p', {class: 'hint'}, 'The settings and the names of the tables are kept in this browser. The tables ' +
        'are not, since they may be large, nor is the result: save it as a file.'));
  }

  #makeAnswerView() {
    return el('div', {hidden: true},
      el('p', {}, el('a', {href: `#${room}`, class: 'judge-back'}, 'Other tables or settings')),
      this.#heading, this.#result);
  }

  async take(files) {
    if (files.length === 0 || this.#run)
      return;
    const bytes = files.reduce((sum, file) => sum + file.size, 0);
    if (bytes > most_bytes)
      return this.#say(problemBox([{message: `Found ${megabytes(bytes)} of tables; expected at most ` +
        `${megabytes(most_bytes)} at once. Use the program for larger ones: eggfall survey.`}]));
    try {
      this.#tables = await Promise.all(files.map(async (file) =>
        ({name: file.name, bytes: new Uint8Array(await file.arrayBuffer())})));
    } catch (error) {
      return this.#say(problemBox([{message: `A file could not be read (${error.message}). Choose the files again.`}]));
    }
    this.#answers = [];
    this.#factor = {};
    this.#confirmed = false;
    keep(names_kept_as, {names: files.map(({name}) => name), when: Date.now()});
    this.#survey();
  }

  #settings() {
    const chosen = this.#form.read();
    if (chosen === null)
      return null;
    const {one, before, after} = this.#factor;
    return {
      criteria: chosen.criteria ?? undefined, by: chosen.by ?? [],
      factor: one, factorBefore: before, factorAfter: after,
      settings: this.#answers.flatMap(({settings}) => settings),
      unitsConfirmed: this.#confirmed,
    };
  }

  async #survey() {
    const settings = this.#settings();
    if (settings === null || this.#run)
      return;
    if (placeIn(room) !== '')
      location.hash = `#${room}`;
    this.#say();
    this.#asked.replaceChildren();
    this.#waiting.start();
    markRoom(room, 'working');
    try {
      this.#run = askApart('survey', [this.#tables, settings], (done, all) => this.#waiting.progress(done, all));
      this.#end(await this.#run.reply);
    } catch (error) {
      this.#rest();
      this.#say(error.name === 'stopped'
        ? el('p', {class: 'told', role: 'status'}, 'Stopped: nothing was counted.')
        : problemBox([{message: error.message}], 'The calculation failed'));
    }
  }

  #rest() {
    this.#run = null;
    this.#waiting.end();
    markRoom(room, null);
    this.#listLast();
    this.#given.replaceChildren(...[answersBox(this.#answers, (index) => {
      this.#answers.splice(index, 1);
      this.#survey();
    })].filter(Boolean));
  }

  #end(reply) {
    this.#rest();
    if (!reply.ok)
      return this.#ask(reply);
    this.#reply = reply;
    this.#show();
    if (placeIn(room) === '') {
      location.hash = answer_place;
    } else {
      markRoom(room, 'ready');
      announce('The count of many farms is ready.');
      this.#say(el('p', {class: 'told'}, 'Ready: ', el('a', {href: answer_place}, 'the result')));
    }
  }

  /** What the engine could not know, to be answered, or what needs mending. */
  #ask(reply) {
    const answered = (answer) => { this.#answers.push(answer); this.#survey(); };
    const lacks = lacksFactor(reply);
    const role = askedRole(reply);
    if (lacks)
      this.#asked.replaceChildren(factorBox(lacks, this.#factor, (factor) => {
        this.#factor = factor;
        this.#survey();
      }));
    else if (reply.kind === 'question' || role)
      this.#asked.replaceChildren(questionBox(role ?? reply, [], answered));
    else
      return this.#say(problemBox(reply.problems.map((problem) => ({message: problemWords(problem)})),
        reply.kind === 'calculation' ? 'The calculation failed' : 'This needs mending'));
    this.#asked.firstElementChild.focus();
  }

  #show() {
    const reply = this.#reply;
    const survey = JSON.parse(reply.json);
    const {trials, groups} = survey.surveyed;
    this.#heading.textContent = `Many farms: ${counted(groups, 'group')} treated, ` +
      `in ${counted(trials, 'trial')}`;
    this.#result.replaceChildren(...[
      this.#unitsBox(reply.units_in_doubt), bewareBox(reply.beware), this.#readBox(reply, survey), this.#saves(reply),
      yearsBox(reply.courses), sharesBox(reply),
      this.#reportHeading, this.#frame.frame,
    ].filter(Boolean));
    this.#frame.show(reply.report);
  }

  /** The doubt comes before any share. */
  #unitsBox(groups) {
    if (groups === 0)
      return null;
    return el('div', {class: 'problem', role: 'group', 'aria-label': 'Eggs seen, or eggs per gram?'},
      el('strong', {}, 'Eggs seen, or eggs per gram?'),
      el('p', {}, `The counts of ${groups} ${groups === 1 ? 'group look' : 'groups look'} like eggs per gram in a ` +
        'column of eggs seen, or the other way round; the rows as CSV name them. Look at the bench sheets, not at ' +
        'these tables. If the table is wrong, head its columns epg_before and epg_after, and choose it again.'),
      button('All are as the tables say, the bench sheets confirm it', () => {
        this.#confirmed = true;
        this.#survey();
      }));
  }

  #readBox({told, noticed}, {tables}) {
    const list = (lines) => el('ul', {}, lines.map((line) => el('li', {}, line)));
    return el('details', {open: noticed.length > 0 || told.length > 0},
      el('summary', {}, `How ${tables.length === 1 ? 'the table was' : `${tables.length} tables were`} read`),
      el('p', {}, tables.map(({name}) => name).join(', ')),
      noticed.length > 0 ? list(noticed) : null, told.length > 0 ? list(told) : null,
      noticed.length + told.length === 0
        ? el('p', {}, 'They have the names of a counts table and were read as they stand.') : null);
  }

  #saves(reply) {
    const name = fileName(this.#tables.length === 1 ? this.#tables[0].name.replace(/\.[^.]*$/, '') : 'many-farms');
    const save = (label, part, ending) =>
      button(label, () => saveFile(`${name}-${ending}`, reply[part], file_types[ending.split('.').at(-1)]));
    return el('div', {class: 'row', role: 'group', 'aria-label': 'Keep the result'},
      button('To the report', () => this.#reportHeading.focus()),
      button('Print report', () => this.#frame.print(), {class: 'main'}),
      save('Save report (HTML)', 'report', 'survey.html'), save('Rows CSV', 'rows', 'rows.csv'),
      save('Years CSV', 'years', 'years.csv'), save('Survey JSON', 'json', 'survey.json'));
  }

  /** What needs mending is gone to. */
  #say(...what) {
    this.#said.replaceChildren(...what);
    this.#said.querySelector('.problem')?.focus();
  }

  #listLast() {
    const kept = recall(names_kept_as);
    const here = this.#tables.length > 0;
    this.#again.hidden = !here;
    this.#last.replaceChildren(...(kept === null ? [] : [el('p', {class: 'hint'},
      here ? `Chosen: ${kept.names.join(', ')}.`
        : `Last time: ${kept.names.join(', ')}. Choose them again: their names alone were kept.`)]));
  }

  shown() {
    const wanted = placeIn(room) === 'answer';
    if (wanted && this.#reply === null)
      this.#say(el('p', {class: 'told', role: 'status'}, 'The result is not kept: choose the tables again.'));
    this.#listLast();
    if (!this.#run)
      markRoom(room, null);
    showView(this.views, wanted && this.#reply !== null ? this.#answerView : this.#start);
  }

  printable() {
    return placeIn(room) === 'answer' && this.#reply !== null ? this.#frame.frame.contentDocument : null;
  }
}

let here = null;

export function begin(box) {
  here = new Room();
  const inside = el('div', {class: 'judge farms'}, here.views, here.work);
  box.append(inside);
  takesDroppedFiles(inside, () => placeIn(room) !== null, (files) => here.take(files));
  printsInstead(() => here.printable());
}

export function shown() {
  here.shown();
}
