// What is heard and felt at the bench, and the screen that stays awake. All of it may be missing in a
// browser, and none of it is needed to count.
import {settings} from './tally_store.js';

let sounds = null;

/** Browsers allow sound only after the user has touched the page, so it starts with the first one. */
function context() {
  const Context = globalThis.AudioContext ?? globalThis.webkitAudioContext;
  if (!Context)
    return null;
  sounds ??= new Context();
  if (sounds.state === 'suspended')
    sounds.resume().catch(() => {});
  return sounds;
}

function tone({hertz, from = 0, seconds, loud = 0.3, shape = 'sine'}) {
  const place = context();
  if (!place)
    return;
  const start = place.currentTime + from;
  const voice = place.createOscillator();
  const volume = place.createGain();
  voice.type = shape;
  voice.frequency.value = hertz;
  volume.gain.setValueAtTime(loud, start);
  volume.gain.exponentialRampToValueAtTime(0.001, start + seconds);
  voice.connect(volume).connect(place.destination);
  voice.start(start);
  voice.stop(start + seconds);
}

/** Far enough apart to be told apart beside a running tap. */
const kind_hertz = [880, 440, 1320, 330, 660, 1760];

const heard = {
  tap: (kind) => tone({hertz: kind_hertz[kind], seconds: 0.05}),
  bounce: (kind) => [kind_hertz[kind], 200].forEach((hertz, position) =>
    tone({hertz, from: position * 0.06, seconds: 0.12})),
  undo: () => tone({hertz: 180, seconds: 0.15, shape: 'triangle'}),
  chamber: () => [520, 780].forEach((hertz, position) => tone({hertz, from: position * 0.14, seconds: 0.16})),
  sample: () => [520, 780, 1040].forEach((hertz, position) => tone({hertz, from: position * 0.14, seconds: 0.2})),
  alarm: () => [0, 1, 2, 3].forEach((position) =>
    tone({hertz: 990, from: position * 0.25, seconds: 0.18, loud: 0.25, shape: 'square'})),
  ask: () => tone({hertz: 300, seconds: 0.25, shape: 'triangle'}),
};

const felt = {tap: 12, bounce: [12, 40, 60], undo: [20, 40, 20], chamber: 80, sample: [80, 60, 80],
  alarm: [200, 100, 200, 100, 200], ask: 60};

/** Sounds and shakes as the user has set them: signal('tap', kind). */
export function signal(name, kind = 0) {
  const {sound, vibrate} = settings();
  if (sound)
    heard[name](kind);
  // Before the first touch a browser refuses to shake, and writes an error.
  if (vibrate && navigator.userActivation?.hasBeenActive)
    navigator.vibrate?.(felt[name]);
}

let lock = null;
let wanted = false;

async function holdScreen() {
  if (!wanted || document.visibilityState !== 'visible')
    return;
  try {
    lock = await navigator.wakeLock?.request('screen') ?? null;
  } catch {
    lock = null; // as with a low battery; the count is kept all the same
  }
}

// A browser lets go of the screen whenever the page is hidden.
document.addEventListener('visibilitychange', holdScreen);

export function keepAwake() {
  wanted = true;
  return holdScreen();
}

export function letSleep() {
  wanted = false;
  lock?.release().catch(() => {});
  lock = null;
}
