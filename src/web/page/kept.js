// What the user works on, kept in this browser until they delete it.

const prefix = 'eggfall.';
let listeners = [];

/** Told of each change, and of `failed` ones: the browser keeps nothing, or no more. */
export function onKept(listener) {
  listeners.push(listener);
}

const tell = (failed) => listeners.forEach((listener) => listener(failed));

export function keep(name, value) {
  try {
    localStorage.setItem(prefix + name, JSON.stringify(value));
    tell(false);
    return true;
  } catch {
    tell(true);
    return false;
  }
}

export function recall(name) {
  try {
    const text = localStorage.getItem(prefix + name);
    return text === null ? null : JSON.parse(text);
  } catch {
    return null;
  }
}

export function forget(name) {
  try {
    localStorage.removeItem(prefix + name);
  } catch { /* nothing was kept */ }
  tell(false);
}

export function keptNames() {
  try {
    return Object.keys(localStorage).filter((key) => key.startsWith(prefix))
      .map((key) => key.slice(prefix.length));
  } catch {
    return [];
  }
}
