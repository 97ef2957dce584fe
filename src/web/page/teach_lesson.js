// The page of sliders, made when it is first opened.
import {askApart} from './engine.js';
import {button, el, file_types, pageFrame, problemBox, saveFile, waitingBox} from './parts.js';
import {viewHeading} from './views.js';

const title = 'The sliders';

/** Fills the window with the frame, or gives the window back. */
function largeButton(box) {
  const large = button('Fill the window', () => {
    const now = box.classList.toggle('large');
    large.textContent = now ? 'Back to the page' : 'Fill the window';
    document.body.classList.toggle('under-large', now);
    large.focus();
  });
  const leave = () => { if (box.classList.contains('large')) large.click(); };
  addEventListener('hashchange', leave);
  addEventListener('keydown', (event) => { if (event.key === 'Escape') leave(); });
  return large;
}

export function lessonView() {
  let run = null;
  let page = null;
  const frame = pageFrame(title, {scripts: true});
  const waiting = waitingBox('Working out the lesson', () => run?.stop());
  const said = el('div', {});
  const box = el('div', {class: 'lesson', hidden: true});
  const ready = el('div', {hidden: true},
    el('div', {class: 'row'}, largeButton(box),
      button('Save the page', () => saveFile('lesson.html', page, file_types.html)),
      el('span', {class: 'hint'}, 'The saved page needs neither this one nor a network.')),
    el('p', {class: 'paper-only'}, 'To print the sliders’ page, save it, open the file, and print that.'),
    frame.frame);
  box.append(viewHeading(title), waiting.box, said, ready);

  async function make() {
    if (run || page)
      return;
    said.replaceChildren();
    waiting.start();
    run = askApart('lesson', [], waiting.progress);
    try {
      ({page} = await run.reply);
      frame.show(page);
      ready.hidden = false;
    } catch (error) {
      said.replaceChildren(error.name === 'stopped'
        ? el('p', {class: 'told', role: 'status'}, 'Stopped: the page was not made. ',
          button('Make it', make))
        : problemBox([{message: error.message}], 'The calculation failed'));
    }
    run = null;
    waiting.end();
  }

  return {box, make};
}
