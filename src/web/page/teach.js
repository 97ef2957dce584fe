// Teach: why trials mislead. The page of sliders, and invented trials whose truth is known.
import {lessonView} from './teach_lesson.js';
import {trialForm, trialView} from './teach_trial.js';
import {el} from './parts.js';
import {placeIn, showView, viewHeading} from './views.js';

const room = 'teach';

let home = null;
let lesson = null;
let trial = null;

function homeView() {
  return el('div', {},
    viewHeading('Teach: why trials mislead'),
    el('p', {}, 'Anyone who has seen thirty honest tests of one drench give thirty answers reads the next ' +
      'single test with other eyes. All farms and counts here are invented.'),
    el('h3', {}, 'Sliders for a screen or a projector'),
    el('p', {}, 'Animals, factor, unevenness and truth to move; twenty tests of each setting, and what a ' +
      'thousand would say. It is worked out once, in some seconds.'),
    el('div', {class: 'row'}, el('a', {class: 'button', href: `#${room}/lesson`}, 'Open the sliders')),
    el('h3', {}, 'An invented trial with a known truth'),
    trialForm((wish) => {
      trial.make(wish);
      location.hash = `#${room}/trial`;
    }));
}

export function begin(box) {
  lesson = lessonView();
  trial = trialView();
  home = homeView();
  box.append(home, lesson.box, trial.box);
}

export function shown() {
  const place = placeIn(room);
  const views = [home, lesson.box, trial.box];
  if (place === 'lesson') {
    showView(views, lesson.box);
    lesson.make();
  } else if (place === 'trial' && trial.makeKept()) {
    showView(views, trial.box);
  } else {
    showView(views, home);
  }
}
