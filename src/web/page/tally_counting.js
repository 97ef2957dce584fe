// The screen at the microscope: one sample at a time, a big button a kind of egg, and keys.
//
// What a slip must not hit lies away from the big buttons, asks first, and can be undone. The buttons
// stay where they are while a question stands, so that no tap lands on another thing than was meant.
import {announce, button, counted, el, field, tick} from './parts.js';
import {eggsIn, eggsOf, isTouched, nameOf, progressOf, Tally} from './tally_count.js';
import {occasion_words, runningTable, stateWords} from './tally_running.js';
import {keepSetting, settings} from './tally_store.js';
import {keepAwake, letSleep, signal} from './tally_signals.js';

/** Two taps within so many milliseconds may be one finger that bounced: both count, and it is said. */
const bounce_ms = 60;

/** While eggs come fast, the number is read out no oftener than this. */
const announce_ms = 1500;
const pause_ms = 250;

/** A question just asked takes no answer: the tap that asked it may still be going on. */
const deaf_ms = 400;

/** Eggs by kind: "17 strongyle-type, 3 nematodirus". */
const eggWords = (kinds, eggs) => kinds.map((kind, position) => `${eggs[position]} ${kind}`).join(', ');

/** Reads a number out soon after it changed, no oftener than now and then, and always its last. */
function reader() {
  let waiting = null;
  let words = '';
  let last = 0;
  const speak = () => {
    waiting = null;
    last = performance.now();
    announce(words);
  };
  return {
    soon(text) {
      words = text;
      waiting ??= setTimeout(speak, Math.max(pause_ms, last + announce_ms - performance.now()));
    },
    now(text) {
      clearTimeout(waiting);
      words = text;
      speak();
    },
  };
}

/** A click so soon after a finger was lifted belongs to it. */
const click_ms = 500;

/** Counts on touch, mouse and pen as they come down, and on what keyboards and screen readers send. */
function tapButton(onTap, properties, ...children) {
  let held = false;
  let lifted = -click_ms;
  const lift = () => { held = false; lifted = performance.now(); };
  return el('button', {
    type: 'button', ...properties,
    onpointerdown(event) {
      if (event.button !== 0)
        return;
      held = true;
      event.currentTarget.setPointerCapture(event.pointerId);
      onTap();
    },
    onpointerup: lift,
    onpointercancel: lift,
    onclick(event) {
      const ofPointer = event.detail > 0 && (held || performance.now() - lifted < click_ms);
      if (!ofPointer)
        onTap();
    },
    oncontextmenu(event) { event.preventDefault(); },
  }, ...children);
}

class CountingScreen {
  #tally;
  #save;
  #reader = reader();
  #lastTap = 0;
  #lastStep = 0;
  #asking = null;
  #table = null;
  #kindButtons = [];
  #parts = {};

  constructor({count, occasion, save}) {
    this.#tally = new Tally(count, occasion);
    this.#save = save;
    this.box = this.#build();
    this.#listen();
    this.#draw();
  }

  // ---- what is on the screen

  #build() {
    const {count, occasion} = this.#tally;
    const parts = this.#parts;
    parts.progress = el('span', {class: 'progress'});
    parts.title = el('h2', {tabindex: '-1', class: 'sample'});
    parts.chamber = el('p', {class: 'chamber'});
    parts.said = el('p', {class: 'said'});
    parts.notKept = el('p', {class: 'problem', hidden: true},
      'This browser keeps no more: what you count now is lost when the page is closed. ' +
      'Go to the table and save it as a file.');
    parts.question = el('div', {class: 'question', role: 'alert', hidden: true});
    parts.undo = button('Undo', () => this.#undo(), {class: 'undo'});
    parts.finish = button('', () => this.#finish(), {class: 'finish'});
    parts.controls = el('div', {class: 'controls'}, parts.undo, parts.finish);
    parts.kinds = el('div', {class: 'kinds'});
    parts.over = el('div', {class: 'over', hidden: true});
    parts.tools = this.#tools();
    parts.tableBox = el('div');
    const panel = el('div', {class: 'bench-panel'},
      el('div', {class: 'top'}, el('a', {class: 'button', href: `#count/${count.id}`}, 'Table and saving'),
        parts.progress),
      el('div', {class: 'what'}, parts.title, parts.chamber),
      parts.tools, parts.notKept, parts.said, parts.question, parts.controls, parts.over, parts.kinds);
    return el('div', {class: 'counting'}, panel,
      el('div', {class: 'beside'}, this.#keysBox(), parts.tableBox,
        el('p', {class: 'hint'}, `Counting ${occasion_words[occasion]}: ${count.name}. ` +
          'Every tap is kept in this browser at once.')));
  }

  #tools() {
    const {count} = this.#tally;
    const parts = this.#parts;
    parts.sound = button('', () => {
      keepSetting('sound', !settings().sound);
      this.#drawSound();
      signal('chamber');
    }, {class: 'sound'});
    this.#drawSound();
    parts.absent = button('Not sampled', () => this.#askAbsent());
    parts.rest = button('End sample', () => this.#askRest());
    const go = field({label: 'Go to sample', choices: [['', 'Go to…'],
      ...count.animals.map((_, place) => [String(place), `${place + 1}. ${nameOf(count, place, false)}`])]});
    go.box.classList.add('go');
    go.input.addEventListener('change', () => {
      if (go.input.value !== '')
        this.#go(Number(go.input.value));
      go.input.value = '';
    });
    return el('div', {class: 'tools'}, parts.sound, go.box, parts.absent, parts.rest);
  }

  #drawSound() {
    const {sound} = settings();
    this.#parts.sound.textContent = sound ? 'Sound: on' : 'Sound: off';
    this.#parts.sound.setAttribute('aria-pressed', String(sound));
  }

  #keysBox() {
    const {count} = this.#tally;
    const keys = tick('Count by keys', {checked: settings().keys});
    keys.input.addEventListener('change', () => keepSetting('keys', keys.input.checked));
    const shakes = tick('Vibrate at each tap, where the device can', {checked: settings().vibrate});
    shakes.input.addEventListener('change', () => keepSetting('vibrate', shakes.input.checked));
    const groups = tick('Show the groups of the animals (who counts had better not know them)',
      {checked: settings().groups});
    groups.input.addEventListener('change', () => {
      keepSetting('groups', groups.input.checked);
      this.#drawTable();
      this.#draw();
    });
    const line = (key, words) => el('li', {}, el('kbd', {}, key), ` ${words}`);
    // Open where there is a keyboard, as far as a browser tells.
    const open = matchMedia('(hover: hover) and (min-width: 62rem)').matches;
    return el('details', {class: 'keys', open}, el('summary', {}, 'Keys and settings'),
      el('ul', {},
        line('Space or 1', `one egg: ${count.kinds[0]}`),
        count.kinds.slice(1).map((kind, position) => line(String(position + 2), `one egg: ${kind}`)),
        line('Backspace or U', 'undo, as often as you like'),
        line('N or Enter', 'chamber finished; at a finished sample, the next one'),
        line('0', 'no egg in this chamber')),
      keys.box, shakes.box, groups.box);
  }

  #drawTable() {
    const {count, occasion} = this.#tally;
    this.#table = runningTable({count, occasion, showGroups: settings().groups,
      onanimal: (place) => this.#go(place)});
    this.#parts.tableBox.replaceChildren(this.#table.box);
  }

  get #name() { return nameOf(this.#tally.count, this.#tally.place, settings().groups); }

  /** All of the screen, after any step that is not a mere tap. */
  #draw() {
    const {count, occasion, place, chambers, chamber, isOpen} = this.#tally;
    const parts = this.#parts;
    const {counted, absent, all} = progressOf(count, occasion);
    parts.progress.textContent = `${counted} of ${all} counted` + (absent ? `, ${absent} not sampled` : '');
    parts.title.replaceChildren(el('span', {class: 'which'}, `Sample ${place + 1} of ${all}: `),
      el('span', {class: 'tag'}, this.#name));
    parts.chamber.textContent = isOpen ? `Chamber ${chamber + 1} of ${chambers}`
      : stateWords(this.#tally.sample, chambers);
    parts.finish.textContent = chambers > 1 ? `Finish chamber ${chamber + 1}` : 'Finish sample';
    // One place for both, so that nothing moves: a sample with a finished chamber was there.
    parts.absent.hidden = !isOpen || this.#tally.chambersDone > 0;
    parts.rest.hidden = !isOpen || this.#tally.chambersDone === 0;
    parts.finish.hidden = !isOpen;
    parts.kinds.hidden = !isOpen;
    parts.over.hidden = isOpen;
    this.#drawKinds();
    if (!isOpen)
      this.#drawOver();
    if (!this.#table)
      this.#drawTable();
    for (const [position] of count.animals.entries())
      this.#table.update(position);
    this.#table.current(place);
    this.#drawNumbers();
  }

  /** Made again only where the kinds are others: a focus on one of them stays. */
  #drawKinds() {
    const {kinds} = this.#tally;
    if (this.#kindButtons.length === kinds.length)
      return;
    this.#kindButtons = kinds.map((kind, position) => this.#kindButton(kind, position));
    this.#parts.kinds.replaceChildren(...this.#kindButtons.map((each) => each.made));
  }

  #kindButton(kind, position) {
    // No part of the name: a screen reader would say each change of it, and it is read out now and then.
    const number = el('span', {class: 'number', 'aria-hidden': 'true'});
    const made = tapButton(() => this.#tap(position), {class: `kind kind-${position}`}, number,
      el('span', {class: 'name'}, kind));
    return {made, number};
  }

  /** What a tap changes: the numbers, and the line of the table. */
  #drawNumbers() {
    const {eggsHere, place} = this.#tally;
    this.#kindButtons.forEach(({number}, kind) => { number.textContent = String(eggsIn(eggsHere, kind)); });
    this.#table.update(place);
    this.#table.current(place);
  }

  #drawOver() {
    const {sample, count, nothingLeft, kinds, chambers} = this.#tally;
    const sum = sample.state === 'brought' ? `${sample.eggs} ${kinds[0]}, brought in with the table`
      : sample.state === 'absent' ? 'Not sampled. That is not the same as no egg.'
      : eggWords(kinds, kinds.map((_, kind) => eggsOf(sample, kind)));
    const next = nothingLeft
      ? el('a', {class: 'button main', href: `#count/${count.id}`}, 'All samples are done: to the table')
      : button('Next sample', () => this.#next(), {class: 'main'});
    const mend = sample.state !== 'done' ? [] : Array.from({length: chambers}, (_, position) =>
      button(sample.chambers[position]?.done ? `Mend chamber ${position + 1} (${eggsIn(sample.chambers[position], 0)})`
        : `Count chamber ${position + 1}`, () => this.#mend(position)));
    this.#parts.over.replaceChildren(el('p', {}, el('strong', {}, sum)), next,
      el('div', {class: 'row'}, mend,
        button(sample.state === 'absent' ? 'It was sampled: count it' : 'Count it again from 0',
          () => this.#recount())));
  }

  // ---- what is said

  /** Something that happened, seen and heard. */
  #say(words) {
    this.#parts.said.textContent = words;
    this.#parts.said.classList.remove('loud');
    this.#reader.now(words);
  }

  /** Something that must not be overlooked. */
  #sayLoud(words) {
    this.#say(words);
    this.#parts.said.classList.add('loud');
  }

  #quiet() {
    this.#parts.said.textContent = '';
    this.#parts.said.classList.remove('loud');
  }

  /** A question with two answers. The one that goes on is where no hasty second tap lands. */
  #ask(words, yes, onyes) {
    const asked = performance.now();
    const answer = (act) => () => {
      if (performance.now() - asked < deaf_ms)
        return;
      this.#unask();
      act();
      this.#parts.title.focus({preventScroll: true});
    };
    const yesButton = button(yes, answer(onyes));
    this.#asking = true;
    this.#reader.now('');
    this.#parts.question.replaceChildren(el('strong', {}, words), el('div', {class: 'controls'}, yesButton,
      button('Go on counting', answer(() => this.#say('Going on.')))));
    this.#parts.question.hidden = false;
    this.#parts.controls.hidden = true;
    this.#quiet();
    yesButton.focus({preventScroll: true});
    signal('ask');
  }

  #unask() {
    if (!this.#asking)
      return;
    this.#asking = null;
    this.#parts.question.hidden = true;
    this.#parts.question.replaceChildren();
    this.#parts.controls.hidden = false;
  }

  // ---- what the user does

  #keep() {
    this.#parts.notKept.hidden = this.#save();
  }

  /** After a step: kept, drawn, and the keys count again wherever the focus was. */
  #stepped(words) {
    this.#lastStep = performance.now();
    this.#keep();
    this.#draw();
    this.#say(words);
    this.#parts.title.focus({preventScroll: true});
  }

  #tap(kind) {
    if (!this.#tally.isOpen)
      return this.#sayLoud(`Sample ${this.#name} is finished: this egg is not counted. ` +
        (this.#tally.nothingLeft ? 'All samples are done.' : 'N goes on to the next sample.'));
    if (this.#asking) {
      this.#unask();
      this.#parts.title.focus({preventScroll: true});
    }
    const now = performance.now();
    const bounced = now - this.#lastTap < bounce_ms;
    this.#lastTap = now;
    const reached = this.#tally.tap(kind);
    this.#keep();
    this.#drawNumbers();
    const {eggsHere, kinds, bench} = this.#tally;
    const words = `${eggsIn(eggsHere, kind)} ${kinds[kind]}`;
    if (reached) {
      signal('alarm');
      this.#sayLoud(`${counted(bench.alarm, 'egg')} reached in sample ${this.#name}. To stop here, finish ` +
        'this chamber first: of a chamber half counted nobody knows how much was looked at.');
      return;
    }
    signal(bounced ? 'bounce' : 'tap', kind);
    if (bounced) {
      this.#sayLoud(`Two taps at almost the same time: both are counted, the last as number ${words}. ` +
        'If it was one egg, undo one.');
      return;
    }
    if (eggsHere.taps.length === 1)
      this.#quiet();
    this.#reader.soon(words);
  }

  #undo() {
    this.#unask();
    const undone = this.#tally.undo();
    if (!undone)
      return this.#say('There is nothing to undo.');
    signal('undo');
    this.#keep();
    this.#draw();
    const {eggsHere, kinds} = this.#tally;
    this.#say(undone.egg === undefined ? `Undone: ${undone.step}. Back at sample ${this.#name}.`
      : `Undone: one ${kinds[undone.egg]}, now ${eggsIn(eggsHere, undone.egg)}.`);
  }

  #finish() {
    const {isOpen, eggsHere, chamber} = this.#tally;
    if (!isOpen)
      return this.#next();
    if (eggsHere.taps === '')
      return this.#ask(`No egg in chamber ${chamber + 1} of sample ${this.#name}?`, 'Yes, no egg',
        () => this.#finished());
    this.#finished();
  }

  /** A chamber is counted, with eggs or without. */
  #finished() {
    const {chamber, kinds, eggsHere, place, count} = this.#tally;
    const eggs = eggWords(kinds, kinds.map((_, kind) => eggsIn(eggsHere, kind)));
    const name = this.#name;
    this.#tally.finishChamber();
    if (count.samples[this.#tally.occasion][place].state !== 'done') {
      signal('chamber');
      return this.#stepped(`Chamber ${chamber + 1} of sample ${name} finished: ${eggs}. ` +
        `Now chamber ${this.#tally.chamber + 1}.`);
    }
    this.#sampleOver(name, place);
  }

  #sampleOver(name, place) {
    const {count, occasion} = this.#tally;
    const sample = count.samples[occasion][place];
    const kinds = count.kinds.slice(0, sample.kinds);
    signal('sample');
    const eggs = sample.state === 'absent' ? 'not sampled'
      : eggWords(kinds, kinds.map((_, kind) => eggsOf(sample, kind)));
    this.#stepped(`Sample ${name}: ${eggs}. ` + (this.#tally.nothingLeft ? 'All samples are done.'
      : `Next: ${this.#name}, chamber ${this.#tally.chamber + 1}.`));
  }

  #next() {
    if (this.#tally.nothingLeft)
      return this.#say('All samples are done.');
    this.#tally.goOn();
    this.#stepped(`Now sample ${this.#name}.`);
  }

  #go(place) {
    this.#unask();
    this.#tally.go(place);
    this.#stepped(`Now sample ${this.#name}: ${stateWords(this.#tally.sample, this.#tally.chambers)}.`);
    this.box.scrollIntoView({block: 'start', behavior: 'instant'});
  }

  #askAbsent() {
    const eggs = this.#tally.mainEggs;
    const dropped = isTouched(this.#tally.sample) ? ` Its count so far (${eggs}) is then left out.` : '';
    this.#ask(`Was ${this.#name} not sampled? That is not the same as no egg.${dropped}`, 'Yes, not sampled',
      () => {
        const {place} = this.#tally;
        const name = this.#name;
        this.#tally.markAbsent();
        this.#sampleOver(name, place);
      });
  }

  #askRest() {
    const {eggsHere, chambersDone, chambers} = this.#tally;
    const dropped = eggsHere.taps
      ? ` ${counted(eggsHere.taps.length, 'egg')} of this chamber are left out.` : '';
    this.#ask(`End sample ${this.#name} with ${chambersDone} of ${chambers} chambers?${dropped}`,
      'Yes, end it', () => {
        const {place} = this.#tally;
        const name = this.#name;
        this.#tally.leaveRest();
        this.#sampleOver(name, place);
      });
  }

  #mend(chamber) {
    this.#tally.mend(chamber);
    this.#stepped(`Chamber ${chamber + 1} of sample ${this.#name} is open: ` +
      'add eggs, or undo, then finish it.');
  }

  #recount() {
    this.#tally.recount();
    this.#stepped(`Sample ${this.#name} starts at 0 again. Undo brings the first count back.`);
  }

  // ---- keys, and hands that slip

  #listen() {
    const {box} = this;
    // A mouse must not leave the focus on a button, for Space would then press that one again.
    box.querySelector('.bench-panel').addEventListener('mousedown', (event) => {
      if (event.target.closest('button'))
        event.preventDefault();
    });
    this.#onkey = (event) => this.#key(event);
  }

  #onkey;

  #key(event) {
    if (event.ctrlKey || event.altKey || event.metaKey || event.isComposing)
      return;
    const {target} = event;
    if (target.closest('input, select, textarea') || !settings().keys)
      return;
    const act = this.#actOf(event.key);
    const pressesItself = [' ', 'Enter'].includes(event.key) && target.closest('button, a, summary');
    // A key that is held down repeats by itself, and is not one egg after the other.
    if (event.repeat && (act || pressesItself))
      return event.preventDefault();
    if (!act || pressesItself)
      return;
    event.preventDefault();
    act();
  }

  #actOf(key) {
    const kind = key === ' ' ? 0 : '123456789'.indexOf(key);
    if (key.length === 1 && kind >= 0)
      return kind < this.#tally.kinds.length ? () => this.#tap(kind) : null;
    switch (key) {
      case 'Backspace': case 'u': case 'U': return () => this.#undo();
      case 'Enter': case 'n': case 'N': return () => this.#finish();
      case '0': return () => this.#noEgg();
      case 'Escape': return this.#asking ? () => this.#unask() : null;
      default: return null;
    }
  }

  #noEgg() {
    const {isOpen, eggsHere, kinds} = this.#tally;
    if (!isOpen)
      return;
    this.#unask();
    if (eggsHere.taps !== '')
      return this.#say('This chamber has eggs: ' +
        `${eggWords(kinds, kinds.map((_, kind) => eggsIn(eggsHere, kind)))}. ` +
        'Undo them, or press N to finish it with them.');
    if (performance.now() - this.#lastStep < deaf_ms)
      return this.#say('Pressed twice at once: taken for one. Press 0 again if this chamber has no egg ' +
        'either.');
    this.#finished();
  }

  start() {
    document.addEventListener('keydown', this.#onkey);
    document.documentElement.classList.add('at-the-bench');
    keepAwake();
    this.#parts.title.focus({preventScroll: true});
    const up = () => scrollTo({top: 0, behavior: 'instant'});
    up();
    // A scroll that was still gliding would carry the big button out of the thumb's reach.
    requestAnimationFrame(up);
  }

  stop() {
    document.removeEventListener('keydown', this.#onkey);
    document.documentElement.classList.remove('at-the-bench');
    letSleep();
  }
}

/** box, start() and stop(); save() keeps the count and says whether it could. */
export const countingScreen = (wanted) => new CountingScreen(wanted);
