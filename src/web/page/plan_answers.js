// Answers of "Plan a test", kept until they are deleted.
import {choices} from './choices.js';
import {forget, keep, keptNames, recall} from './kept.js';

const prefix = 'plan-answer-';

// An answer that the browser would not keep is still there to be read and saved.
const held = new Map();

const numberOf = (name) => Number(name.slice(prefix.length));

export const exact_trials = 2000;
export const quick_trials = 100;

/** Of an answer or of what is asked for, in a line. */
export function inWords({host, worm, meanEpg, classes, counting}) {
  const egg = counting.map(({factor}) => factor).join(' or ');
  return `${host}${worm ? ` (${worm})` : ''}, ${classes.join(' + ')}, ${meanEpg} EPG, one egg for ${egg} EPG`;
}

export const isQuick = ({wish}) => wish.trials < exact_trials;

/** Numbers of the answers kept, the latest first. */
export const answerNumbers = () =>
  [...new Set([...held.keys(), ...keptNames().filter((name) => name.startsWith(prefix)).map(numberOf)])]
    .sort((a, b) => b - a);

export const answer = (number) => held.get(number) ?? recall(prefix + number);

export function addAnswer(wish, {report, json, csv}) {
  const number = (answerNumbers()[0] ?? 0) + 1;
  putBack(number, {wish, report, json, csv, when: Date.now(), version: choices.version});
  return number;
}

export function putBack(number, kept) {
  if (!keep(prefix + number, kept))
    held.set(number, kept);
}

export function deleteAnswer(number) {
  held.delete(number);
  forget(prefix + number);
}
