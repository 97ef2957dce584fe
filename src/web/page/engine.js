// The page's end of the engine's thread. A call is a promise; stop() ends the thread with all that
// it was at, and the next call starts another.

let worker = null;
let calls = new Map();
let last = 0;
let script = null;

function thread() {
  if (worker)
    return worker;
  script ??= URL.createObjectURL(
    new Blob([document.getElementById('engine').textContent], {type: 'text/javascript'}));
  // A plain script: browsers refuse a page from disk a module in its worker.
  worker = new Worker(script);
  worker.onmessage = ({data: {number, reply, failed, done, all}}) => {
    const call = calls.get(number);
    if (!call)
      return;
    if (all !== undefined)
      return call.progress?.(done, all);
    calls.delete(number);
    if (failed === undefined)
      call.resolve(reply);
    else {
      // An engine that broke off is not asked again: the next call starts another.
      stop();
      call.reject(new Error(failed));
    }
  };
  worker.onerror = (event) => {
    const broken = [...calls.values()];
    stop();
    for (const call of broken)
      call.reject(new Error(event.message));
  };
  return worker;
}

/** Starts the engine before it is needed. */
export function warmUp() {
  thread();
}

/**
 * Calls a method of eggfall.mjs in the thread.
 * @param {string} method
 * @param {unknown[]} given
 * @param {(done: number, all: number) => void} [progress]
 */
export function ask(method, given = [], progress = undefined) {
  return new Promise((resolve, reject) => {
    const number = ++last;
    calls.set(number, {resolve, reject, progress});
    thread().postMessage({number, method, given});
  });
}

/** Whoever waits is told by a rejection named "stopped". */
export function stop() {
  worker?.terminate();
  worker = null;
  const left = [...calls.values()];
  calls = new Map();
  for (const call of left)
    call.reject(Object.assign(new Error('stopped'), {name: 'stopped'}));
}

/** Whether this browser can run the engine: WebAssembly with exceptions, and unpacking. */
export function canRun() {
  try {
    // A function with one `try`: what browsers of before 2021 to 2022 refuse.
    return 'DecompressionStream' in globalThis && WebAssembly.validate(new Uint8Array([
      0, 97, 115, 109, 1, 0, 0, 0, 1, 4, 1, 96, 0, 0, 3, 2, 1, 0, 10, 8, 1, 6, 0, 6, 64, 25, 11, 11,
    ]));
  } catch {
    return false;
  }
}
