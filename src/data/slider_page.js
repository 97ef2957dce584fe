'use strict';
// Shows the setting that the sliders choose, out of `lesson`, where all is worked out and drawn
// beforehand: nothing is calculated here.
{
  const sliders = [...document.querySelectorAll('input[data-slider]')];
  const all = selector => document.querySelectorAll(selector);
  const tenths = number => number === null ? 'none' : (number / 10).toFixed(1);

  function show() {
    const steps = sliders.map(slider => slider.valueAsNumber);
    const panels = steps.reduce((cells, step) => cells[step], lesson.cells);
    const panel = element => panels[element.closest('[data-panel]').dataset.panel];

    steps.forEach((step, i) => {
      const words = lesson.steps[i][step];
      sliders[i].setAttribute('aria-valuetext', words);
      for (const place of all(`[data-step="${i}"]`)) place.textContent = words;
    });
    for (const place of all('[data-number]'))
      place.textContent = tenths(panel(place).numbers[place.dataset.number]);
    for (const bar of all('[data-bar]'))
      bar.style.width = panel(bar).numbers[bar.dataset.bar] / 10 + '%';
    for (const place of all('[data-words]')) place.textContent = panel(place).words;

    const truth = lesson.truths[steps[steps.length - 1]];
    for (const line of all('line.truth')) {
      line.setAttribute('x1', truth.x);
      line.setAttribute('x2', truth.x);
    }
    for (const label of all('text.truth')) {
      label.setAttribute('x', truth.x);
      label.setAttribute('text-anchor', truth.anchor);
      label.textContent = truth.words;
    }
    for (const figure of all('[data-panel] figure'))
      figure.querySelectorAll('g.test').forEach((test, i) => {
        const [outline, fall, mark, beyond] = panel(figure).tests[i];
        // As line_up_figure() paints them, in the page's inks.
        const missed = mark === 'misses';
        const ink = missed ? 'var(--miss)' : 'var(--ink)';
        test.classList.toggle('missed', missed);
        const bar = test.querySelector('path');
        bar.setAttribute('d', outline);
        bar.setAttribute('stroke', ink);
        bar.setAttribute('stroke-dasharray', missed ? '13 4' : 'none');
        const dot = test.querySelector('circle');
        dot.setAttribute('visibility', fall === null ? 'hidden' : 'visible');
        dot.setAttribute('fill', beyond ? 'var(--paper)' : 'var(--deep)');
        dot.setAttribute('stroke', beyond ? 'var(--deep)' : 'var(--paper)');
        if (fall !== null) dot.setAttribute('cx', fall);
        const word = test.querySelector('text.mark');
        word.textContent = mark;
        word.setAttribute('fill', ink);
      });
  }

  for (const slider of sliders) slider.addEventListener('input', show);
  document.querySelector('form.sliders').hidden = false;
  show();
}
