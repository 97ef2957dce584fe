// Yard sheets: the groups drawn, the doses by the label, the days; sheets to print, and the table to
// count into.
import {ask} from './engine.js';
import {forget, keep, recall} from './kept.js';
import {announce, button, el, file_types, fileName, pageFrame, problemBox, saveFile} from './parts.js';
import {printsInstead} from './print_page.js';
import {sheetsForm} from './sheets_form.js';
import {contentOf} from './kept_file.js';
import {placeIn, showView, viewHeading} from './views.js';

const room = 'sheets';
const made_place = 'made';
const kept_as = 'sheets-made';
const older_as = 'sheets-older'; // the answers were changed after the sheets were made

class Room {
  #form = sheetsForm();
  #made = null; // {wish, page, counts}
  #said = el('div', {});
  #heading = viewHeading();
  #noticed = el('div', {});
  #older = el('p', {class: 'problem', hidden: true}, el('strong', {}, 'Do not use these sheets: '),
    'they are older than your answers, which you changed after they were made. Make them again.');
  #frame = pageFrame('The sheets');
  #questions = el('div', {},
    viewHeading('Yard sheets'),
    el('p', {}, 'Draws the groups at random, works out each dose by the label’s rate, sets the days of ' +
      'sampling, and makes the sheets for yard and bench, and a counts table to fill in.'),
    el('p', {class: 'hint'}, 'What you type is kept in this browser as you go.'),
    this.#form.box,
    el('div', {class: 'row'}, button('Make the sheets', () => this.#ask(), {class: 'main'})),
    this.#said);
  #sheets = el('div', {hidden: true},
    this.#heading,
    this.#older,
    el('p', {}, 'Compare the doses with the label of each product before the day.'),
    this.#noticed,
    el('div', {class: 'row'},
      button('Print the sheets', () => this.#frame.print(), {class: 'main'}),
      button('Save the sheets', () => this.#save('sheets', 'html', this.#made.page)),
      button('Save the counts table (CSV)', () => this.#save('counts', 'csv', this.#made.counts)),
      button('Count on this device', () => this.#count())),
    this.#frame.frame,
    el('div', {class: 'row'}, el('a', {href: `#${room}`, class: 'button'}, 'Change the answers')));
  views = [this.#questions, this.#sheets];

  constructor() {
    for (const event of ['input', 'change', 'click'])
      this.#form.box.addEventListener(event, ({target}) => {
        if (event !== 'click' || target.closest('button'))
          keep(older_as, true);
      });
  }

  #name() {
    return fileName([this.#made.wish.farm, this.#made.wish.host].filter(Boolean).join('-'));
  }

  #save(what, kind, text) {
    saveFile(`${what}-${this.#name()}.${kind}`, text, file_types[kind]);
  }

  #count() {
    keep('count-list', {name: `counts-${this.#name()}.csv`, text: this.#made.counts});
    location.hash = '#count';
  }

  async #ask() {
    this.#said.replaceChildren();
    const asked = this.#form.asked();
    if (asked && await this.#make(asked)) {
      keep(kept_as, asked);
      forget(older_as);
      location.hash = `#${room}/${made_place}`;
    }
  }

  async #make({wish, list}) {
    try {
      const reply = await ask('sheets', [wish, list && contentOf(list)]);
      if (!reply.ok) {
        this.#refuse(this.#form.refused(reply.problems));
        return false;
      }
      this.#show(wish, reply);
      return true;
    } catch (error) {
      this.#refuse([{message: error.message}]);
      return false;
    }
  }

  #refuse(problems) {
    if (problems.length === 0)
      return;
    this.#said.replaceChildren(problemBox(problems));
    this.#said.firstChild.focus();
  }

  #show(wish, {page, counts, noticed}) {
    this.#made = {wish, page, counts};
    this.#heading.textContent = `Sheets for ${wish.host}: ${wish.groups.map(({name}) => name).join(', ')}`;
    this.#noticed.replaceChildren(...(noticed.length === 0 ? [] : [el('div', {class: 'told'},
      el('ul', {}, noticed.map((line) => el('li', {}, line))))]));
    this.#frame.show(page);
    announce('The sheets are made.');
  }

  /** The same list, groups and seed give the same sheets: after a reload they are made again. */
  async shown() {
    const kept = placeIn(room) === made_place && !this.#made ? recall(kept_as) : null;
    if (kept)
      await this.#make(kept);
    const toSheets = placeIn(room) === made_place && this.#made;
    this.#older.hidden = !recall(older_as);
    showView(this.views, toSheets ? this.#sheets : this.#questions);
  }

  printable() {
    return placeIn(room) !== null && !this.#sheets.hidden ? this.#frame.frame.contentDocument : null;
  }
}

let here = null;

export function begin(box) {
  here = new Room();
  box.append(...here.views);
  printsInstead(() => here.printable());
}

export function shown() {
  here.shown();
}
