// The pieces that every room of the page is made of. Text goes in as text alone, never as markup.

/**
 * An element: el('p', {class: 'hint'}, 'text', otherElement). A property that begins with "on" is a
 * listener; true sets an attribute without a value, and false, null and undefined leave it out.
 */
export function el(name, properties = {}, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(properties))
    if (key.startsWith('on'))
      made.addEventListener(key.slice(2), value);
    else if (value === true)
      made.setAttribute(key, '');
    else if (value !== false && value !== null && value !== undefined)
      made.setAttribute(key, value);
  made.append(...children.flat().filter((child) => child !== null && child !== undefined));
  return made;
}

/** "1 egg", "3 eggs": words whose plural takes an s. */
export const counted = (number, word) => `${number} ${word}${number === 1 ? '' : 's'}`;

export const inQuotes = (text) => `"${text}"`;

let ids = 0;
export const newId = () => `part-${++ids}`;

export function button(label, onclick, properties = {}) {
  return el('button', {type: 'button', onclick, ...properties}, label);
}

/** Input, or select where there are `choices` ([value, words] each), with label and hint. */
export function field({label, hint, choices, ...properties}) {
  const id = newId();
  const hintId = hint ? `${id}-hint` : undefined;
  const shared = {id, 'aria-describedby': hintId};
  let input;
  if (choices) {
    const {value, ...others} = properties;
    input = el('select', {...others, ...shared},
      choices.map(([each, words]) => el('option', {value: each, selected: each === value}, words)));
  } else {
    input = el('input', {type: 'text', autocomplete: 'off', ...properties, ...shared});
  }
  const box = el('div', {class: 'field'}, el('label', {for: id}, label), input,
    hint ? el('span', {class: 'hint', id: hintId}, hint) : null);
  return {box, input};
}

export function tick(label, properties = {}) {
  const input = el('input', {type: 'checkbox', ...properties});
  return {box: el('label', {class: 'tick'}, input, el('span', {}, label)), input};
}

export function fieldset(legend, ...children) {
  return el('fieldset', {}, el('legend', {}, legend), ...children);
}

/**
 * A number as people type it, a comma for its point as well; null for an empty box, NaN for none, and
 * for "1,200", which may be a thousand or little more than one: nobody may guess which.
 */
export function numberIn(input) {
  const text = input.value.trim();
  if (text === '')
    return null;
  if (/^[1-9]\d{0,2},\d{3}$/.test(text))
    return NaN;
  return /^[+-]?\d*[.,]?\d+$/.test(text) ? Number(text.replace(',', '.')) : NaN;
}

/** What the engine found wrong, or asks, each with its place; read out by a screen reader. */
export function problemBox(problems, lead = 'This needs mending') {
  return el('div', {class: 'problem', role: 'alert', tabindex: '-1'},
    el('strong', {}, lead),
    el('ul', {}, problems.map((problem) => el('li', {}, problem.message))));
}

/** Says something to those who do not see it happen. */
export function announce(text) {
  document.getElementById('announcer').textContent = text;
}

/** A bar while the engine works, with a way to stop it. */
export function waitingBox(label, onstop) {
  const bar = el('progress', {max: '1', 'aria-label': label});
  const words = el('span', {}, label);
  const box = el('div', {class: 'waiting row', hidden: true}, bar, words, button('Stop', onstop));
  return {
    box,
    start() { bar.removeAttribute('value'); words.textContent = label; box.hidden = false; announce(label); },
    /** Where it goes on for a time that nobody knows. */
    say(other) { bar.removeAttribute('value'); words.textContent = other; announce(other); },
    progress(done, all) { bar.value = all ? done / all : 0; words.textContent = `${label} ${Math.floor(100 * (all ? done / all : 0))}%`; },
    end() { box.hidden = true; },
  };
}

/** Lets the user keep something as a file. */
export function saveFile(name, content, type) {
  const url = URL.createObjectURL(new Blob([content], {type}));
  const link = el('a', {href: url, download: name});
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
  announce(`${name} was handed to your browser's downloads.`);
}

export const file_types = {
  csv: 'text/csv;charset=utf-8',
  json: 'application/json',
  html: 'text/html;charset=utf-8',
  docx: 'application/vnd.openxmlformats-officedocument.wordprocessingml.document',
  xlsx: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
};

/** Letters, digits and hyphens: a name that any disk takes. */
export const fileName = (text) =>
  text.normalize('NFKD').replace(/[^\w-]+/g, '-').replace(/^-+|-+$/g, '').slice(0, 60) || 'trial';

/**
 * A page that the engine made, in a frame of its own height. Without `scripts` none of it can run,
 * whatever a table brought into it.
 */
export function pageFrame(title, {scripts = false} = {}) {
  // With scripts it is a stranger to this page; without, it may be measured and printed.
  const frame = el('iframe', {class: 'framed', title,
    sandbox: scripts ? 'allow-scripts' : 'allow-same-origin allow-modals'});
  const fit = () => {
    // Of the body: the document is never less high than the frame, which could then not shrink again.
    const page = frame.contentDocument?.body;
    if (page)
      frame.style.height = `${page.scrollHeight + 4}px`;
  };
  frame.addEventListener('load', () => {
    fit();
    if (frame.contentDocument)
      new ResizeObserver(fit).observe(frame.contentDocument.body);
  });
  if (scripts)
    frame.style.height = '90vh';
  return {
    frame,
    show(html) { frame.srcdoc = html; },
    print() { frame.contentWindow.focus(); frame.contentWindow.print(); },
  };
}

/** Says beside a field what is wrong with what it holds; null: nothing is. */
export function fieldProblem(input, message) {
  const id = `${input.id}-problem`;
  document.getElementById(id)?.remove();
  const described = (input.getAttribute('aria-describedby') ?? '').split(' ')
    .filter((each) => each && each !== id);
  if (message) {
    described.unshift(id);
    input.setAttribute('aria-invalid', 'true');
    input.closest('.field').append(el('span', {class: 'mend', id, role: 'alert'}, message));
  } else {
    input.removeAttribute('aria-invalid');
  }
  if (described.length > 0)
    input.setAttribute('aria-describedby', described.join(' '));
  else
    input.removeAttribute('aria-describedby');
}

/** A file's input in the look of a button. */
export function fileButton(label, onfiles, properties = {}) {
  const input = el('input', {type: 'file', class: 'unseen', ...properties,
    onchange: () => {
      onfiles([...input.files]);
      input.value = ''; // so that the same file may be chosen again
    }});
  return el('label', {class: 'button file'}, label, input);
}

/** Files dropped anywhere on the page while `isShown()`; `box` is marked while they hover. */
export function takesDroppedFiles(box, isShown, onfiles) {
  const files = (event) => isShown() && [...event.dataTransfer?.types ?? []].includes('Files');
  addEventListener('dragover', (event) => {
    if (!files(event))
      return;
    event.preventDefault();
    box.classList.add('dropping');
  });
  addEventListener('dragleave', (event) => {
    if (event.relatedTarget === null)
      box.classList.remove('dropping');
  });
  addEventListener('drop', (event) => {
    if (!files(event) || event.defaultPrevented)
      return;
    event.preventDefault();
    box.classList.remove('dropping');
    onfiles([...event.dataTransfer.files]);
  });
}
