// Views of one room, one shown at a time by what stands behind the room's name in the address, so that
// back goes back from an answer to its questions.
import {el} from './parts.js';

/** "answer-3" of "#plan/answer-3"; empty for "#plan" alone. */
export const placeIn = (room) => {
  const [name, ...place] = location.hash.slice(1).split('/');
  return name === room ? place.join('/') : null;
};

/** A heading that is gone to when its view is shown, so that it is seen and read out. */
export const viewHeading = (...words) => el('h2', {tabindex: '-1'}, ...words);

/** Shows one of a room's views; where it was not shown before, its heading is gone to. */
export function showView(views, chosen) {
  const before = views.find((view) => !view.hidden);
  for (const view of views)
    view.hidden = view !== chosen;
  if (before && before !== chosen)
    chosen.querySelector('h2').focus();
}

const marks = {working: '…', ready: '✓'};

/** A mark at a room's name, "working" or "ready", for those who are in another room; null: none. */
export function markRoom(room, word) {
  const link = document.querySelector(`#rooms a[href="#${room}"]`);
  link.querySelector('.mark')?.remove();
  if (word)
    link.append(el('span', {class: 'mark'}, el('span', {'aria-hidden': 'true'}, ` ${marks[word]}`),
      el('span', {class: 'unseen'}, ` (${word})`)));
}
