// A table to type into, as in a spreadsheet. Only the rows in sight are in the document, so that
// thousands of them stay quick.
import {announce, button, el} from './parts.js';
import {cellsOf} from './separated.js';
import {makeHistory} from './history.js';

const rows_beyond_sight = 6;
const most_mends_kept = 20;
const lines_measured = 300;
const touch = matchMedia('(pointer: coarse), (max-width: 40rem)');
const heightOfRow = () => (touch.matches ? 44 : 34);

const empty = (row) => row.every((cell) => cell.trim() === '');
const inWords = (column) => column.replaceAll('_', ' ').replaceAll(':', ': ');

const keyboards = [
  [/^(eggs|epg|animals)/, 'numeric'],
  [/^(factor|weight|dose|label|mg)/, 'decimal'],
];

const least_letters = [[/^(group|drench)$/, 9], [/^(animal|class|host|role)$/, 7]];

/** Wide enough for the longest word of its head and for its cells, within reason. */
function widthOf(column, index, rows) {
  const least = least_letters.find(([names]) => names.test(column))?.[1] ?? 5;
  let longest = Math.max(least, ...inWords(column).split(' ').map((word) => word.length));
  for (const row of rows.slice(0, lines_measured))
    longest = Math.max(longest, row[index].length);
  return `calc(${Math.min(longest, 22)}ch + 1.3rem)`;
}

/**
 * `state` is {columns, rows, work}: names, lists of texts, and what was done by hand: {cells, rows},
 * and of the first cells `mends`: {where, column, from, to}.
 * `onchange(state, undone)` is told of each change. `follows` names the columns that a row begun
 * below another takes from it, the first of them being empty.
 */
export class Grid {
  #history;
  #rowsShown = new Map();
  #current = {row: 0, column: 0};
  #startColumn = null; // where a line was begun with the tabulator
  #drawing = false;
  #marks = new Map();
  #onchange;
  #follows = [];
  #height = 34;
  #columnsShown = null;

  constructor(label, {onchange}) {
    this.#onchange = onchange;
    this.heads = el('div', {role: 'row', class: 'grid-heads', 'aria-rowindex': '1'});
    this.body = el('div', {role: 'rowgroup', class: 'grid-rows'});
    this.frame = el('div', {class: 'grid', role: 'grid', tabindex: '0', 'aria-label': label,
      onkeydown: (event) => this.#key(event),
      onpaste: (event) => this.#paste(event),
      onpointerdown: () => { this.#startColumn = null; },
      onfocusin: (event) => this.#entered(event.target),
      onfocusout: (event) => this.#commit(event.target)},
    el('div', {role: 'rowgroup', class: 'grid-head'}, this.heads), this.body);
    this.frame.addEventListener('scroll', () => this.#render());
    this.undoButton = button('Undo', () => this.undo());
    this.redoButton = button('Redo', () => this.redo());
    this.tools = el('div', {class: 'row', role: 'group', 'aria-label': 'Work on the table'},
      this.undoButton, this.redoButton,
      button('Add 10 rows', () => this.addRows(10)),
      button('Delete row', () => this.#deleteRow()));
    this.said = el('p', {class: 'hint', role: 'status'});
    this.box = el('div', {class: 'grid-box'}, this.frame, this.tools, this.said);
    new ResizeObserver(() => this.#resized()).observe(this.frame);
    this.show({columns: [], rows: [], work: null});
  }

  get state() { return this.#history.now(); }

  /** Another table; what was done to the one before is forgotten. */
  show(state, {follows = []} = {}) {
    this.#history = makeHistory(state);
    this.#follows = follows;
    this.#current = {row: 0, column: 0};
    this.#marks = new Map();
    this.said.textContent = '';
    this.#draw();
  }

  /** Follows the state by another; `say` tells those who do not see it. */
  change(state, say = '') {
    this.#history.follow(state);
    this.#changed(false, say);
  }

  undo() {
    if (this.#history.undo())
      this.#changed(true, 'Undone.');
  }

  redo() {
    if (this.#history.redo())
      this.#changed(true, 'Done again.');
  }

  addRows(count) {
    const {columns, rows, work} = this.state;
    const first = rows.length;
    const added = Array.from({length: count}, () => columns.map(() => ''));
    this.change({columns, rows: [...rows, ...added], work}, `${count} rows added.`);
    this.go(first, 0);
  }

  /** Marks cells with what is wrong: a list of {row, column, text}. */
  mark(wrong) {
    this.#marks = new Map(wrong.map(({row, column, text}) => [`${row},${column}`, text]));
    this.#draw();
  }

  /** Takes in what is being typed. */
  settle() {
    if (this.frame.contains(document.activeElement))
      this.#commit(document.activeElement);
  }

  go(row, column) {
    const {columns, rows} = this.state;
    if (rows.length === 0 || columns.length === 0)
      return;
    this.#current = {row: Math.min(Math.max(row, 0), rows.length - 1),
      column: Math.min(Math.max(column, 0), columns.length - 1)};
    this.#bringIntoSight();
    this.#render();
    const input = this.#inputAt(this.#current.row, this.#current.column);
    input?.focus({preventScroll: true});
    this.#bringAcross();
    const {top, bottom} = input?.getBoundingClientRect() ?? {top: 0, bottom: 0};
    if (top < 0 || bottom > innerHeight)
      input.scrollIntoView({block: 'nearest', inline: 'nearest'});
  }

  // What is drawn.

  /** Rows in sight are kept where the columns are: the next cell may be on its way to the focus. */
  #draw() {
    const {columns, rows} = this.state;
    const frozen = columns.indexOf('animal');
    const height = heightOfRow();
    const anew = columns !== this.#columnsShown || height !== this.#height;
    this.#columnsShown = columns;
    this.#height = height;
    this.frame.style.setProperty('--row', `${this.#height}px`);
    this.frame.style.setProperty('--columns',
      `var(--number) ${columns.map((column, index) => widthOf(column, index, rows)).join(' ')}`);
    // What stays in place as the others move aside: a column is never left half under it.
    this.frame.style.setProperty('--staying',
      frozen < 0 ? 'var(--number)' : `calc(var(--number) + ${widthOf('animal', frozen, rows)})`);
    this.frame.setAttribute('aria-rowcount', rows.length + 1);
    this.frame.setAttribute('aria-colcount', columns.length + 1);
    this.heads.replaceChildren(
      el('div', {role: 'columnheader', class: 'grid-number', 'aria-colindex': '1'}, 'row'),
      ...columns.map((column, index) => el('div', {role: 'columnheader', 'aria-colindex': index + 2,
        class: index === frozen ? 'frozen' : null}, inWords(column))));
    this.body.style.height = `${rows.length * this.#height}px`;
    this.undoButton.disabled = !this.#history.canUndo();
    this.redoButton.disabled = !this.#history.canRedo();
    this.#drawing = true;
    for (const [index, row] of this.#rowsShown)
      if (index >= rows.length || anew) {
        row.remove();
        this.#rowsShown.delete(index);
      } else {
        row.querySelectorAll('input').forEach((input, position) => this.#fill(input, index, position));
      }
    this.#drawing = false;
    this.#render();
  }

  #fill(input, row, column) {
    const wrong = this.#marks.get(`${row},${column}`);
    input.value = this.state.rows[row][column];
    input.title = wrong ?? '';
    if (wrong)
      input.setAttribute('aria-invalid', 'true');
    else
      input.removeAttribute('aria-invalid');
  }

  #resized() {
    if (heightOfRow() === this.#height)
      return this.#render();
    const hadFocus = this.frame.contains(document.activeElement);
    this.settle();
    this.#draw();
    if (hadFocus)
      this.go(this.#current.row, this.#current.column);
  }

  #inSight() {
    const first = Math.floor(this.frame.scrollTop / this.#height);
    const count = Math.ceil((this.frame.clientHeight || 400) / this.#height);
    return [Math.max(0, first - rows_beyond_sight),
      Math.min(this.state.rows.length, first + count + rows_beyond_sight)];
  }

  #render() {
    const [from, to] = this.#inSight();
    // The row that is being typed in stays, wherever the table is scrolled to.
    const kept = this.frame.contains(document.activeElement) ? this.#current.row : -1;
    for (const [index, row] of this.#rowsShown)
      if ((index < from || index >= to) && index !== kept) {
        row.remove();
        this.#rowsShown.delete(index);
      }
    for (let index = from; index < to; index++)
      if (!this.#rowsShown.has(index))
        this.#place(index, this.#rowOf(index));
  }

  /** In the order of the rows, which is that of the tabulator and of screen readers. */
  #place(index, row) {
    const later = [...this.#rowsShown.keys()].filter((other) => other > index);
    this.body.insertBefore(row, later.length ? this.#rowsShown.get(Math.min(...later)) : null);
    this.#rowsShown.set(index, row);
  }

  #rowOf(index) {
    const {columns} = this.state;
    const frozen = columns.indexOf('animal');
    return el('div', {role: 'row', class: 'grid-row', 'aria-rowindex': index + 2,
      style: `top: ${index * this.#height}px`},
    el('div', {role: 'rowheader', class: 'grid-number', 'aria-colindex': '1'}, String(index + 1)),
    columns.map((column, position) => {
      const input = el('input', {type: 'text', 'aria-label': `${inWords(column)}, row ${index + 1}`, tabindex: '-1',
        class: 'cell', 'data-row': index, 'data-column': position, autocomplete: 'off', autocapitalize: 'off',
        spellcheck: 'false',
        enterkeyhint: 'next', inputmode: keyboards.find(([names]) => names.test(column))?.[1]});
      this.#fill(input, index, position);
      return el('div', {role: 'gridcell', 'aria-colindex': position + 2, class: position === frozen ? 'frozen' : null},
        input);
    }));
  }

  #inputAt(row, column) {
    return this.#rowsShown.get(row)?.querySelectorAll('input')[column];
  }

  #bringIntoSight() {
    const top = this.#current.row * this.#height;
    const room = this.frame.clientHeight - this.heads.offsetHeight - this.#height;
    if (top < this.frame.scrollTop)
      this.frame.scrollTop = top;
    else if (top > this.frame.scrollTop + room)
      this.frame.scrollTop = top - room + 4;
  }

  /** A cell under the columns that stay in place is not in sight. */
  #bringAcross() {
    const cell = this.#inputAt(this.#current.row, this.#current.column)?.parentElement;
    if (!cell || cell.classList.contains('frozen'))
      return;
    const staying = [...this.heads.querySelectorAll('.grid-number, .frozen')]
      .filter((head) => !head.classList.contains('frozen') || head.offsetLeft <= cell.offsetLeft)
      .reduce((sum, head) => sum + head.offsetWidth, 0);
    if (cell.offsetLeft - staying < this.frame.scrollLeft)
      this.frame.scrollLeft = cell.offsetLeft - staying;
    else if (cell.offsetLeft + cell.offsetWidth > this.frame.scrollLeft + this.frame.clientWidth)
      this.frame.scrollLeft = cell.offsetLeft + cell.offsetWidth - this.frame.clientWidth;
  }

  // What is typed.

  #entered(input) {
    if (input.dataset.row === undefined)
      return;
    this.#current = {row: Number(input.dataset.row), column: Number(input.dataset.column)};
    // Typing replaces a cell, as in a spreadsheet.
    input.select();
    this.#bringAcross();
  }

  #commit(input) {
    if (input.dataset?.row === undefined || this.#drawing)
      return;
    const row = Number(input.dataset.row);
    const column = Number(input.dataset.column);
    if (this.state.rows[row]?.[column] === undefined || this.state.rows[row][column] === input.value)
      return;
    this.#put(row, column, [[input.value]]);
  }

  /** Puts a block of cells with its first at this place; rows are added where they are short. */
  #put(top, left, block, say = '') {
    const {columns, work} = this.state;
    const rows = this.state.rows.slice();
    let cells = 0;
    const mends = [];
    block.forEach((line, down) => {
      const position = top + down;
      const before = rows[position] ?? columns.map(() => '');
      const after = before.slice();
      line.forEach((cell, across) => { after[left + across] = cell; });
      if (empty(before) && !empty(after))
        this.#follow(after, rows[position - 1]);
      const changed = columns.map((_, index) => index).filter((index) => after[index] !== before[index]);
      cells += changed.length;
      for (const index of changed)
        mends.push({where: this.#nameOf(before, position), column: columns[index],
          from: before[index], to: after[index]});
      rows[position] = after;
    });
    this.change({columns, rows, work: work && this.#withMends(work, cells, mends)}, say);
  }

  /** A row as its owner knows it. */
  #nameOf(row, position) {
    const animal = row[this.state.columns.indexOf('animal')];
    return animal ? `animal ${animal}` : `row ${position + 1}`;
  }

  /** A cell that was mended twice is told once, from what it was to what it is. */
  #withMends(work, cells, mends) {
    if (mends.length > most_mends_kept)
      return {...work, cells: work.cells + cells};
    const told = [...work.mends ?? []];
    let all = work.cells;
    for (const mend of mends) {
      const position = told.findIndex(({where, column}) => where === mend.where && column === mend.column);
      if (position < 0) {
        told.push(mend);
        all += 1;
      } else if (told[position].from === mend.to) {
        told.splice(position, 1); // as it came
        all -= 1;
      } else {
        told[position] = {...told[position], to: mend.to};
      }
    }
    return {...work, cells: all, mends: told.slice(0, most_mends_kept)};
  }

  #follow(row, above) {
    const places = this.#follows.map((name) => this.state.columns.indexOf(name));
    if (!above || places.length === 0 || row[places[0]] !== '')
      return;
    for (const place of places)
      if (place >= 0 && row[place] === '')
        row[place] = above[place];
  }

  #deleteRow() {
    const {columns, rows, work} = this.state;
    const {row, column} = this.#current;
    if (rows.length === 0)
      return;
    this.change({columns, rows: rows.filter((_, index) => index !== row),
      work: work && {...work, rows: work.rows + 1}}, `Row ${row + 1} deleted; Undo brings it back.`);
    this.go(row, column);
  }

  #changed(undone, say) {
    this.#marks = new Map();
    const hadFocus = this.frame.contains(document.activeElement);
    const {row, column} = this.#current;
    this.#draw();
    if (hadFocus)
      this.go(row, column);
    this.said.textContent = say;
    this.#onchange(this.state, undone);
  }

  #paste(event) {
    const text = event.clipboardData.getData('text/plain');
    if (event.target.dataset.row === undefined || !/[\t\n]/.test(text.trimEnd()))
      return;
    event.preventDefault();
    event.stopPropagation();
    const block = cellsOf(text, '\t');
    if (this.pasted?.(block, text))
      return;
    const row = Number(event.target.dataset.row);
    const column = Number(event.target.dataset.column);
    const widest = Math.max(...block.map((line) => line.length));
    const {columns} = this.state;
    if (column + widest > columns.length) {
      this.said.textContent = `Nothing was pasted: the block is ${widest} columns wide, and only ` +
        `${columns.length - column} are left from here on. Begin further left, or add columns first.`;
      return;
    }
    this.#put(row, column, block, `${block.length} rows pasted.`);
    announce(this.said.textContent);
  }

  // The keys of a spreadsheet.

  #key(event) {
    const input = event.target;
    if (input === this.frame)
      return this.#keyOutside(event);
    const {row, column} = this.#current;
    const went = (down, across) => {
      event.preventDefault();
      this.#commit(input);
      this.#startColumn = null;
      this.go(down, across);
    };
    if (event.ctrlKey || event.metaKey)
      return this.#keyWithControl(event, went);
    const {columns, rows} = this.state;
    const page = Math.max(1, Math.floor(this.frame.clientHeight / this.#height) - 2);
    const caretAt = (place) => input.selectionStart === place && input.selectionEnd === place;
    const all = input.selectionStart === 0 && input.selectionEnd === input.value.length;
    switch (event.key) {
      case 'ArrowUp': return went(row - 1, column);
      case 'ArrowDown': return went(row + 1, column);
      case 'PageUp': return went(row - page, column);
      case 'PageDown': return went(row + page, column);
      case 'ArrowLeft': return (all || caretAt(0)) && column > 0 ? went(row, column - 1) : undefined;
      case 'ArrowRight':
        return (all || caretAt(input.value.length)) && column + 1 < columns.length
          ? went(row, column + 1) : undefined;
      case 'Enter': return this.#enter(event, went);
      case 'Tab': return this.#tab(event, went);
      case 'F2': return input.setSelectionRange(input.value.length, input.value.length);
      case 'Escape': return this.#escape(input, rows[row][column]);
    }
  }

  /** The table is one stop of the tabulator; from there its cells are entered, and Escape comes back. */
  #keyOutside(event) {
    if (event.ctrlKey || event.metaKey || event.altKey)
      return;
    const {row, column} = this.#current;
    if (/^(Enter|F2|Arrow)/.test(event.key)) {
      event.preventDefault();
      this.go(row, column);
    } else if (event.key.length === 1) {
      this.go(row, column); // and the letter goes there
    }
  }

  #keyWithControl(event, went) {
    const {row, column} = this.#current;
    const key = event.key.toLowerCase();
    const {columns, rows} = this.state;
    if (key === 'home')
      return went(0, 0);
    if (key === 'end')
      return went(rows.length - 1, columns.length - 1);
    // What was typed since the cell was entered is the browser's to undo.
    if (!/^[zy]$/.test(key) || event.target.value !== rows[row][column])
      return;
    event.preventDefault();
    event.stopPropagation();
    if (key === 'y' || event.shiftKey)
      this.redo();
    else
      this.undo();
  }

  /** Down, and back to where a line was begun with the tabulator; below the last row is another. */
  #enter(event, went) {
    const {row, column} = this.#current;
    if (event.shiftKey)
      return went(row - 1, column);
    this.#commit(event.target);
    const {columns, rows, work} = this.state;
    if (row + 1 === rows.length && !empty(rows[row]))
      this.change({columns, rows: [...rows, columns.map(() => '')], work});
    const start = this.#startColumn ?? column;
    went(row + 1, start);
  }

  /** Beyond either end of the table the tabulator leaves it. */
  #tab(event, went) {
    const {row, column} = this.#current;
    const {columns, rows} = this.state;
    const place = row * columns.length + column + (event.shiftKey ? -1 : 1);
    if (place < 0 || place >= rows.length * columns.length)
      return;
    const start = this.#startColumn ?? column;
    went(Math.floor(place / columns.length), place % columns.length);
    this.#startColumn = start;
  }

  /** The first time what was typed is dropped, then the table is left. */
  #escape(input, kept) {
    if (input.value !== kept) {
      input.value = kept;
      input.select();
    } else {
      this.frame.focus({preventScroll: true});
    }
  }
}
