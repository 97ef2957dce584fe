// What browsers say that cannot run the page, and that it asks the network for nothing.
import assert from 'node:assert/strict';
import { run } from './as_a_user.mjs';

await run({
  async 'without JavaScript a sentence says what is missing'(page) {
    const context = await page.context().browser().newContext({ javaScriptEnabled: false, offline: true });
    const plain = await context.newPage();
    await plain.goto(page.url());
    await plain.getByText('This page works out its answers in your browser, with JavaScript').waitFor();
    await context.close();
  },

  async 'an old browser is told so, and nothing else is offered'(page, look) {
    await page.addInitScript(() => { WebAssembly.validate = () => false; });
    await page.reload();
    await page.getByText('This browser is too old for this page').waitFor();
    assert.equal(await page.getByRole('link', { name: 'Judge a trial' }).count(), 0);
    await look('old');
  },

  async 'the policy of the page lets nothing out and no foreign script in'(page) {
    const policy = await page.locator('meta[http-equiv="Content-Security-Policy"]').getAttribute('content');
    assert.match(policy, /default-src 'none'/);
    assert.doesNotMatch(policy, /script-src[^;]*'unsafe-(inline|eval)'/);
    assert.doesNotMatch(policy, /connect-src|https?:/);
    // A script that a table smuggled in would not run, nor could it call home.
    const said = [];
    page.removeAllListeners('console'); // the refusal is what is looked for here
    page.on('console', message => said.push(message.text()));
    await page.evaluate(() => {
      const script = document.createElement('script');
      script.textContent = 'globalThis.smuggled = true';
      document.body.append(script);
    });
    assert.equal(await page.evaluate(() => globalThis.smuggled), undefined);
    assert.equal(await page.evaluate(() => fetch('data:text/plain,x').then(() => 'sent', () => 'refused')), 'refused');
    assert.ok(said.some(text => /Content Security Policy/.test(text)), said.join());
  },

  async 'each room has an address, and back goes back'(page) {
    for (const [link, address] of [['Many farms', 'farms'], ['Count eggs', 'count'], ['Plan a test', 'plan'], ['Yard sheets', 'sheets'],
      ['Teach', 'teach'], ['Judge a trial', 'judge']]) {
      await page.getByRole('navigation').getByRole('link', { name: link }).click();
      await page.waitForURL(new RegExp(`#${address}`));
      // The address changes first, and the room a moment later.
      await page.locator('nav a[aria-current="page"]', { hasText: link }).waitFor();
    }
    await page.goBack();
    await page.waitForURL(/#teach/);
    await page.getByRole('heading', { name: /Teach/ }).waitFor();
  },
});
