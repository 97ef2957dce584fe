// The trials that this browser keeps, and what is known of each.
import {forget, keep, recall} from './kept.js';

const list_name = 'judge.trials';
const nameOf = (id) => `judge.trial.${id}`;

/** Beyond this a browser would soon keep nothing more: the table it was taken for is kept in its place. */
export const most_kept = 400_000;

export const trialList = () => recall(list_name) ?? [];

/**
 * A trial: where its table came from (`origin`: kind and files, {name, text} or {name, base64} each),
 * the table as it was mended by hand or null (`grid`), and what was answered and chosen.
 */
export function newTrial(name, origin) {
  return {
    id: `${Date.now().toString(36)}${Math.floor(Math.random() * 1e4).toString(36)}`,
    name,
    origin,
    grid: null,
    reading: [],
    answers: [],
    factor: {},
    larvae: null,
    choices: {},
    heading: {},
    judged: origin.kind !== 'typed',
  };
}

const sizeOf = (trial) =>
  trial.origin.files.reduce((sum, file) => sum + (file.text ?? file.base64 ?? '').length, 0);

/** What is kept of a trial: of a large one the counts it was taken for, not the file. */
function slim(trial, counts) {
  if (sizeOf(trial) <= most_kept || !(trial.grid || counts))
    return trial;
  return {
    ...trial,
    origin: {...trial.origin, files: [], dropped: true},
    grid: trial.grid ?? {form: 'counts', ...counts},
    reading: trial.grid ? trial.reading : counts.reading,
  };
}

/** `counts` is what the engine took the table for, once it has. */
export function keepTrial(trial, counts = null) {
  const list = trialList().filter((each) => each.id !== trial.id);
  keep(list_name, [{id: trial.id, name: trial.name, date: new Date().toISOString()}, ...list]);
  return keep(nameOf(trial.id), slim(trial, counts));
}

export const isTooLarge = (trial) => sizeOf(trial) > most_kept;

export const keptTrial = (id) => recall(nameOf(id));

export function renameTrial(id, name) {
  const trial = keptTrial(id);
  if (!trial)
    return;
  keep(nameOf(id), {...trial, name});
  keep(list_name, trialList().map((each) => (each.id === id ? {...each, name} : each)));
}

/** Gives a function that brings it back. */
export function deleteTrial(id) {
  const trial = keptTrial(id);
  const list = trialList();
  forget(nameOf(id));
  keep(list_name, list.filter((each) => each.id !== id));
  return () => {
    keep(nameOf(id), trial);
    keep(list_name, list);
  };
}

// Bytes as text, for what keeps texts alone.

export function base64Of(bytes) {
  const step = 0x8000;
  let text = '';
  for (let position = 0; position < bytes.length; position += step)
    text += String.fromCharCode(...bytes.subarray(position, position + step));
  return btoa(text);
}

export const bytesOf = (base64) => Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));

/** A file as it is kept: text where it is text, for it takes less room. */
export async function keptFile(file) {
  const bytes = new Uint8Array(await file.arrayBuffer());
  try {
    const text = new TextDecoder('utf-8', {fatal: true, ignoreBOM: true}).decode(bytes);
    if (!text.includes('\0'))
      return {name: file.name, text};
  } catch { /* bytes, then */ }
  return {name: file.name, base64: base64Of(bytes)};
}

export const contentOf = (file) => file.text ?? bytesOf(file.base64);
