// Plan a test: before a sample is taken, how many animals, counted how, and what will the answer be worth?
import {askApart} from './engine.js';
import {announce, button, el, file_types, fileName, pageFrame, problemBox, saveFile,
  waitingBox} from './parts.js';
import {addAnswer, answer, answerNumbers, deleteAnswer, exact_trials, inWords, isQuick, putBack,
  quick_trials} from './plan_answers.js';
import {planForm} from './plan_form.js';
import {printsInstead} from './print_page.js';
import {markRoom, placeIn, showView, viewHeading} from './views.js';

const room = 'plan';
const placeOf = (number) => `#${room}/answer-${number}`;
const kindOf = (each) => (isQuick(each) ? 'Quick look' : 'Exact');
const whenIn = (time) => new Date(time).toLocaleString('en-GB', {dateStyle: 'medium', timeStyle: 'short'});

/** Nothing before there is something to go by. */
function timeLeft(started, part) {
  const seconds = (performance.now() - started) / 1000;
  if (seconds < 5 || part < 0.02)
    return '';
  const left = seconds / part - seconds;
  return left < 60 ? 'less than a minute left' : `about ${Math.ceil(left / 60)} minutes left`;
}

class Room {
  #form = planForm();
  #run = null; // while tests are simulated
  #advising = false; // of that, the part after the tests asked for
  #shown = null; // the answer in the frame
  #said = el('div', {});
  #kept = el('div', {});
  #heading = viewHeading();
  #beware = el('div', {});
  #frame = pageFrame('The plan');
  #waiting = waitingBox('Simulating tests', () => this.#run?.stop());
  #left = el('span', {class: 'hint'});
  #buttons = [
    button('Quick look', () => this.#ask(quick_trials), {class: 'main'}),
    button('Exact', () => this.#ask(exact_trials)),
  ];
  #questions = this.#questionsView();
  #answerView = this.#makeAnswerView();
  views = [this.#questions, this.#answerView];
  // In sight wherever the user is in this room.
  work = el('div', {class: 'work'}, this.#said, this.#waiting.box);

  #questionsView() {
    return el('div', {},
      viewHeading('Plan a test'),
      el('p', {}, 'Before a sample is taken: how many animals, counted how, and what will the answer ' +
        'be worth? Tests with a known truth are simulated here, and each is judged as a trial of yours would be.'),
      el('p', {class: 'hint'}, 'What you type is kept in this browser as you go.'),
      this.#form.box,
      el('div', {class: 'row'}, this.#buttons),
      el('p', {class: 'hint'}, 'Quick look: 100 tests of each kind at most, some seconds. Exact: ' +
        '2,000, from half a minute to many minutes on a phone. The other rooms of this page can be used meanwhile; ' +
        'closing the page ends the work.'),
      this.#kept);
  }

  #makeAnswerView() {
    return el('div', {hidden: true},
      this.#heading, this.#beware,
      el('div', {class: 'row close'},
        button('Print', () => this.#frame.print()),
        el('span', {}, 'Save as'),
        button('page', () => this.#save('report', 'html'), {'aria-label': 'Save as page'}),
        button('CSV', () => this.#save('csv', 'csv'), {'aria-label': 'Save as CSV'}),
        button('JSON', () => this.#save('json', 'json'), {'aria-label': 'Save as JSON'})),
      this.#frame.frame,
      el('div', {class: 'row'},
        el('a', {href: `#${room}`, class: 'button'}, 'Change the questions'),
        el('a', {href: '#sheets', class: 'button'}, 'Make the yard sheets'),
        button('Delete this answer', () => this.#delete())));
  }

  #save(part, kind) {
    const {wish} = this.#shown;
    saveFile(`plan-${fileName(`${wish.host}-${wish.classes.join('-')}-${wish.meanEpg}-epg`)}.${kind}`,
      this.#shown[part], file_types[kind]);
  }

  #ask(trials) {
    const wish = this.#form.wish();
    if (wish)
      this.#simulate({...wish, trials});
  }

  async #simulate(wish) {
    const from = location.hash;
    const asker = document.activeElement;
    this.#begin();
    try {
      this.#run = askApart('plan', [wish], this.#tellProgress(performance.now()));
      this.#end(await this.#run.reply, wish, from);
    } catch (error) {
      this.#rest();
      if (error.name === 'stopped') {
        this.#say(el('p', {class: 'told', role: 'status'}, 'Stopped: nothing was worked out.'));
        asker.focus();
      } else {
        this.#say(problemBox([{message: error.message}], 'The calculation failed'));
      }
    }
  }

  /** Where the tests begin anew, no design has done: the engine then looks for what would. */
  #tellProgress(started) {
    let before = 0;
    return (done, all) => {
      if (this.#advising)
        return;
      if (done < before) {
        this.#advising = true;
        this.#left.textContent = '';
        return this.#waiting.say('Working out the advice');
      }
      before = done;
      this.#waiting.progress(done, all);
      this.#left.textContent = timeLeft(started, done / all);
    };
  }

  #begin() {
    this.#advising = false;
    this.#left.textContent = '';
    this.#say();
    for (const each of this.#buttons)
      each.disabled = true;
    this.#waiting.start();
    this.#waiting.box.append(this.#left);
    this.#waiting.box.querySelector('button').focus();
    markRoom(room, 'working');
  }

  #rest() {
    this.#run = null;
    markRoom(room, null);
    this.#waiting.end();
    for (const each of this.#buttons)
      each.disabled = false;
  }

  /** To the answer, if the user is still where it was asked for. */
  #end(reply, wish, from) {
    this.#rest();
    if (!reply.ok) {
      const left = this.#form.refused(reply.problems);
      if (left.length > 0)
        this.#say(problemBox(left));
      return;
    }
    const number = addAnswer(wish, reply);
    if (location.hash === from) {
      location.hash = placeOf(number);
    } else {
      if (placeIn(room) === null)
        markRoom(room, 'ready');
      announce('The plan is ready.');
      this.#say(el('p', {class: 'told'}, 'Ready: ', el('a', {href: placeOf(number)}, inWords(wish))));
    }
  }

  /** Below all else. What needs mending is gone to. */
  #say(...what) {
    this.#said.replaceChildren(...what);
    this.#said.querySelector('.problem')?.focus();
  }

  #delete() {
    const {number, ...rest} = this.#shown;
    deleteAnswer(number);
    location.hash = `#${room}`;
    this.#say(el('p', {class: 'told', role: 'status'}, 'The answer was deleted. ',
      button('Put it back', () => { putBack(number, rest); location.hash = placeOf(number); })));
  }

  #listKept() {
    const numbers = answerNumbers();
    this.#kept.replaceChildren(...(numbers.length === 0 ? [] : [
      el('h3', {}, 'Answers kept in this browser'),
      el('ul', {class: 'answers'}, numbers.map((number) => {
        const each = answer(number);
        return el('li', {}, el('a', {href: placeOf(number)}, inWords(each.wish)),
          el('span', {class: 'hint'}, `${kindOf(each)}, ${whenIn(each.when)}`));
      })),
    ]));
  }

  #open(number) {
    const kept = answer(number);
    if (!kept)
      return false;
    if (this.#shown?.number === number)
      return true;
    this.#shown = {...kept, number};
    this.#heading.textContent = `${kindOf(kept)}: ${inWords(kept.wish)}`;
    this.#beware.replaceChildren(...(isQuick(kept) ? [this.#quickWords(kept)] : []));
    this.#frame.show(kept.report);
    return true;
  }

  #quickWords({wish}) {
    return el('div', {class: 'told'},
      el('p', {}, 'A quick look: luck may move each of its chances. Before you choose a design by it, ' +
        'ask exactly.'),
      button('Ask exactly', () => {
        if (!this.#run)
          this.#simulate({...wish, trials: exact_trials});
      }));
  }

  shown() {
    const number = Number(/^answer-(\d+)$/.exec(placeIn(room))?.[1]);
    const found = number > 0 && this.#open(number);
    if (!found) {
      this.#shown = null;
      this.#listKept();
    }
    if (!this.#run)
      markRoom(room, null);
    showView(this.views, found ? this.#answerView : this.#questions);
  }

  printable() {
    return placeIn(room) !== null && !this.#answerView.hidden ? this.#frame.frame.contentDocument : null;
  }
}

let here = null;

export function begin(box) {
  here = new Room();
  box.append(...here.views, here.work);
  printsInstead(() => here.printable());
}

export function shown() {
  here.shown();
}
