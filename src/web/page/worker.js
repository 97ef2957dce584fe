// The engine in a thread of its own, so that the page never waits: one message a request.
import load from 'eggfall.mjs'; // the module that was just built

const started = load();

onmessage = async ({data: {number, method, given}}) => {
  try {
    const eggfall = await started;
    let told = 0;
    eggfall.progress = (done, all) => {
      const now = performance.now();
      if (done < all && now - told < 50)
        return;
      told = now;
      postMessage({number, done, all});
    };
    postMessage({number, reply: eggfall[method](...given)});
  } catch (error) {
    postMessage({number, failed: String(error)});
  }
};
