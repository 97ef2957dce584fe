// The counts that are kept in this browser, each under a name of its own.
import {forget, keep, keptNames, recall} from './kept.js';

const prefix = 'tally.';

export const keptCounts = () =>
  keptNames().filter((name) => name.startsWith(prefix)).map(recall)
    .filter((count) => count !== null)
    .sort((one, other) => other.changed.localeCompare(one.changed));

export const countOf = (id) => recall(prefix + id);

/** False where the browser keeps no more. */
export function keepCount(count) {
  count.changed = new Date().toISOString();
  return keep(prefix + count.id, count);
}

export const forgetCount = (id) => forget(prefix + id);

/** Calls back when another tab has changed this very count. */
export function onOtherTab(id, changed) {
  const listener = (event) => {
    if (event.key === `eggfall.${prefix}${id}`)
      changed();
  };
  addEventListener('storage', listener);
  return () => removeEventListener('storage', listener);
}

const usual = {sound: false, vibrate: true, keys: true, groups: false};

export const settings = () => ({...usual, ...recall('tally-settings')});
export const keepSetting = (name, value) => keep('tally-settings', {...settings(), [name]: value});
