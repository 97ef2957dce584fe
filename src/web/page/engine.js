// The page's end of the engine's threads. A call is a promise. What takes seconds at most shares one
// thread; what may take minutes has a thread of its own, so that nothing else has to wait for it.

let script = null;

function startWorker() {
  script ??= URL.createObjectURL(
    new Blob([document.getElementById('engine').textContent], {type: 'text/javascript'}));
  // A plain script: browsers refuse a page from disk a module in its worker.
  return new Worker(script);
}

/** One engine, started when it is needed. After stop() the next call starts another. */
class Thread {
  #worker = null;
  #calls = new Map();
  #last = 0;

  start() {
    if (this.#worker)
      return;
    this.#worker = startWorker();
    this.#worker.onmessage = ({data}) => this.#hear(data);
    this.#worker.onerror = (event) => this.#end(new Error(event.message));
  }

  ask(method, given, progress) {
    return new Promise((resolve, reject) => {
      const number = ++this.#last;
      this.#calls.set(number, {resolve, reject, progress});
      this.start();
      this.#worker.postMessage({number, method, given});
    });
  }

  /** Whoever waits is told by a rejection named "stopped". */
  stop() {
    this.#end(Object.assign(new Error('stopped'), {name: 'stopped'}));
  }

  #hear({number, reply, failed, done, all}) {
    const call = this.#calls.get(number);
    if (!call)
      return;
    if (all !== undefined)
      return call.progress?.(done, all);
    this.#calls.delete(number);
    if (failed === undefined)
      return call.resolve(reply);
    // An engine that broke off is not asked again: the next call starts another.
    call.reject(new Error(failed));
    this.stop();
  }

  #end(error) {
    this.#worker?.terminate();
    this.#worker = null;
    const left = [...this.#calls.values()];
    this.#calls = new Map();
    for (const call of left)
      call.reject(error);
  }
}

const shared = new Thread();

/** As small as a trial can be: nobody sees what comes of it. */
const first_work = 'group,animal,eggs_before,eggs_after,factor,host,class,role\n' +
  'a,1,9,1,50,sheep,BZ,\na,2,8,0,50,sheep,BZ,\na,3,7,0,50,sheep,BZ,\n' +
  'b,4,9,8,50,sheep,,control\nb,5,8,9,50,sheep,,control\n';

/**
 * Starts the engine before it is needed, and lets it work once: a browser translates what it runs the
 * first time, and that would otherwise be waited for with the first table.
 */
export function warmUp() {
  shared.ask('analyse', [first_work, {simulations: 0, wanted: ['report.html', 'analysis.json']}])
    .catch(() => {}); // whoever asks next is told
}

/**
 * Calls a method of eggfall.mjs in the shared thread.
 * @param {string} method
 * @param {unknown[]} given
 * @param {(done: number, all: number) => void} [progress]
 */
export const ask = (method, given = [], progress = undefined) => shared.ask(method, given, progress);

/** Ends all that the shared thread is at. Whoever waits is told by a rejection named "stopped". */
export const stop = () => shared.stop();

/**
 * As ask(), in a thread of its own, which ends with the call and gives its memory back.
 * @returns {{reply: Promise<object>, stop: () => void}} stop() ends this call alone.
 */
export function askApart(method, given = [], progress = undefined) {
  const own = new Thread();
  const reply = own.ask(method, given, progress).finally(() => own.stop());
  return {reply, stop: () => own.stop()};
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
