// One count at a glance: how far it is, what looks off, its table, and where the table goes.
import {keep} from './kept.js';
import {button, el, field, fieldProblem, fileName, file_types, fieldset, problemBox, saveFile, tick}
  from './parts.js';
import {isOver, isTouched, nameOf, occasions, progressOf, Tally} from './tally_count.js';
import {occasion_words, runningTable} from './tally_running.js';
import {benchFieldset, forgiveOnInput, groupFields, kindsIn, kindsProblem, tagsField, tagsProblem}
  from './tally_setup.js';
import {keepSetting, settings} from './tally_store.js';
import {countsTable, isBegun, warnings} from './tally_table.js';
import {tagsIn, tidy, twiceIn} from './tally_names.js';

const capital = (text) => text[0].toUpperCase() + text.slice(1);

/** Day and time as the device writes them. */
export const whenWords = (iso) =>
  new Date(iso).toLocaleString('en-GB', {dateStyle: 'medium', timeStyle: 'short'});

export function progressWords(count, occasion) {
  const {all, counted, absent, left} = progressOf(count, occasion);
  return `${counted} of ${all} counted` + (absent ? `, ${absent} not sampled` : '') +
    (left && left < all ? `, ${left} to go` : '');
}

function occasionSwitch(count, onswitch) {
  return el('div', {class: 'row occasions', role: 'group', 'aria-label': 'Which samples'},
    occasions.map((each) => button(`${capital(occasion_words[each])}: ${progressWords(count, each)}`,
      () => onswitch(each), {'aria-pressed': String(each === count.occasion)})));
}

/** The other samples of a trial need bench figures of their own before they can be counted. */
function benchForm(count, save) {
  const {occasion} = count;
  const other = occasions.find((each) => each !== occasion);
  const bench = benchFieldset({legend: `At the bench, ${occasion_words[occasion]}`,
    start: count.known?.[occasion]?.chambers ? count.known[occasion] : count.bench[other] ?? {}});
  const advice = 'After treatment few eggs are left: count more chambers then, if you can, and give the ' +
    'factor of all of them.';
  const form = el('form', {novalidate: true, onsubmit(event) {
    event.preventDefault();
    const made = bench.read();
    if (!made)
      return this.querySelector('[aria-invalid]').focus();
    count.bench[occasion] = made;
    save();
    location.hash = `#count/${count.id}/${occasion}`;
  }}, occasion === 'after' ? el('p', {}, advice) : null, bench.box,
  el('button', {type: 'submit', class: 'main'}, `Count ${occasion_words[occasion]}`));
  forgiveOnInput(form);
  return form;
}

/** Where counting goes on. */
function goOnLink(count) {
  const {occasion} = count;
  const href = `#count/${count.id}/${occasion}`;
  const {left, all} = progressOf(count, occasion);
  const animal = nameOf(count, count.place[occasion], false);
  const untouched = left === all && !isTouched(count.samples[occasion][count.place[occasion]]);
  const words = left === 0 ? 'Look through the samples again'
    : untouched ? `Begin with ${animal}` : `Go on with ${animal}`;
  return el('a', {class: left === 0 ? 'button' : 'button main', href}, words);
}

function warningBox(count) {
  return warnings(count).map(([occasion, lines]) => el('div', {class: 'told'},
    el('strong', {}, `Samples ${occasion_words[occasion]}: look at this first`),
    el('ul', {}, lines.map((line) => el('li', {}, line)))));
}

/** What keeps a table from being judged, or null. */
function whyNot(count) {
  const begun = occasions.filter((each) => isBegun(count, each));
  if (begun.length === 0)
    return 'Nothing has been counted yet.';
  const lacking = begun.filter((each) => count.bench[each] && !count.bench[each].factor);
  return lacking.length === 0 ? null
    : `The factor ${lacking.map((each) => occasion_words[each]).join(' and ')} is missing. ` +
      'Give it under "Change the set-up", which also works it out.';
}

function savingBox(count) {
  const told = el('div');
  const name = `${fileName(count.name)}.csv`;
  const save = () => {
    // With a mark of its encoding, for spreadsheets take a file without one for an older one.
    saveFile(name, `\uFEFF${countsTable(count)}`, file_types.csv);
    told.replaceChildren(el('p', {class: 'told'}, `${name} was handed to your browser's downloads. ` +
      'The count stays here until you delete it.'));
  };
  const judge = () => {
    const why = whyNot(count);
    if (why) {
      told.replaceChildren(problemBox([{message: why}], 'Not yet'));
      return;
    }
    keep('handover', {name, text: countsTable(count)});
    location.hash = '#judge';
  };
  return el('div', {class: 'saving'}, el('h3', {}, 'The counts table'),
    el('p', {}, 'Both occasions in one table, joined by animal. Cells of animals that were not sampled are ' +
      'empty, and 0 is written only where no egg was seen.'),
    el('div', {class: 'row'}, button('Save counts table (CSV)', save), button('Judge this trial', judge,
      {class: occasions.every((each) => progressOf(count, each).left === 0) ? 'main' : null})), told);
}

/**
 * One count. save() keeps it, redraw() shows it anew with the focus on what is named, remove() deletes
 * it.
 */
export function overview({count, save, redraw, remove}) {
  const {occasion} = count;
  const showGroups = settings().groups;
  const groups = tick('Show the groups (who counts had better not know them)', {checked: showGroups,
    onchange: () => { keepSetting('groups', groups.input.checked); redraw('.overview .tick input'); }});
  const table = runningTable({count, occasion, showGroups, onanimal(place) {
    if (!count.bench[occasion])
      return document.querySelector('.overview form input').focus();
    new Tally(count, occasion).go(place);
    save();
    location.hash = `#count/${count.id}/${occasion}`;
  }});
  return el('div', {class: 'overview'},
    el('p', {}, el('a', {href: '#count'}, 'All counts')),
    el('h2', {tabindex: '-1'}, count.name),
    occasionSwitch(count, (each) => {
      count.occasion = each;
      save();
      redraw('.occasions [aria-pressed=true]');
    }),
    count.bench[occasion] ? el('div', {class: 'row'}, goOnLink(count)) : benchForm(count, save),
    warningBox(count), savingBox(count), table.box, groups.box,
    el('div', {class: 'row'},
      el('a', {class: 'button', href: `#count/${count.id}/set-up`}, 'Change the set-up'),
      button('Delete this count', remove)),
    el('p', {class: 'hint'}, `Begun ${whenWords(count.made)}, last changed ${whenWords(count.changed)}.`));
}

/** Chambers of which a sample has counts already: no set-up may take them away. */
const chambersUsed = (count, occasion) => Math.max(1, ...count.samples[occasion].map((sample) =>
  (sample?.chambers ?? []).findLastIndex((chamber) => chamber.done || chamber.taps) + 1));

/** A factor is of all chambers together: one that stays where their number changes is likely a slip. */
function factorDoubt(was, now) {
  if (!was.factor || was.factor !== now.factor || was.chambers === now.chambers)
    return null;
  return `The chambers of a sample change from ${was.chambers} to ${now.chambers}, and the factor of all of ` +
    `them stays ${now.factor}. If the chambers are as large as before, it would be ` +
    `${Number((was.factor * was.chambers / now.chambers).toPrecision(4))}. ` +
    `Keep ${now.factor} all the same?`;
}

/** What may still be changed of a count that was begun. Nothing that was counted changes. */
export function changeForm({count, save}) {
  const name = field({label: 'Name of this trial', value: count.name});
  const beside = count.kinds.length > 1 ? `Beside ${count.kinds.slice(1).join(', ')}. ` : '';
  const apart = field({label: 'Further eggs told apart', name: 'apart', hint: `${beside}Samples that are ` +
    'counted already were not looked at for a new kind: its cells stay empty there until you count them ' +
    'again.'});
  const benches = occasions.filter((each) => count.bench[each]).map((each) => [each, benchFieldset({
    legend: `At the bench, ${occasion_words[each]}`,
    start: {...count.bench[each]}, least: chambersUsed(count, each)})]);
  const groups = count.groups.map((group, position) => {
    const fields = groupFields(group, `Group ${position + 1}`);
    const more = tagsField({label: 'Further animals', value: '', hint: 'Tags, one a line. They come last.'});
    fields.box.append(more.box);
    return {...fields, more: more.input};
  });

  /** True where nothing needs mending. */
  function check() {
    fieldProblem(name.input, tidy(name.input.value) === '' ? 'Found no name; expected one.' : null);
    fieldProblem(apart.input, kindsProblem([...count.kinds, ...tagsIn(apart.input.value)]));
    groups.forEach(({nameInput, more, read}, position) => {
      const own = read().name;
      fieldProblem(nameInput, own === '' ? 'Found no name; expected one.'
        : groups.findIndex((each) => each.read().name === own) < position ? `Found "${own}" twice.` : null);
      const there = count.animals.filter(({group}) => group === position).map(({animal}) => animal);
      const twice = twiceIn([...there, ...tagsIn(more.value)]);
      fieldProblem(more, more.value.trim() === '' ? null : tagsProblem(more.value) ??
        (twice === undefined ? null : `${twice} is in this group already.`));
    });
  }

  function apply(made) {
    count.name = tidy(name.input.value);
    count.kinds = kindsIn(count.kinds[0], [...count.kinds.slice(1), ...tagsIn(apart.input.value)].join(','));
    for (const [occasion, bench] of made)
      count.bench[occasion] = bench;
    groups.forEach(({read, more}, group) => {
      count.groups[group] = read();
      for (const animal of tagsIn(more.value)) {
        count.animals.push({group, animal, rest: {}});
        occasions.forEach((each) => count.samples[each].push(null));
      }
    });
  }

  const form = el('form', {novalidate: true, class: 'set-up', onsubmit(event) {
    event.preventDefault();
    check();
    const made = benches.map(([occasion, bench]) => [occasion, bench.read()]);
    const wrong = this.querySelector('[aria-invalid]');
    if (wrong)
      return wrong.focus();
    const doubts = made.map(([occasion, bench]) => factorDoubt(count.bench[occasion], bench)).filter(Boolean);
    if (doubts.length > 0 && !confirm(doubts.join('\n\n')))
      return;
    apply(made);
    save();
    location.replace(`#count/${count.id}`);
  }}, el('h2', {tabindex: '-1'}, `Change the set-up of ${count.name}`),
  el('p', {}, 'Nothing that was counted changes. A factor holds for every sample of its occasion.'),
  name.box, benches.map(([, bench]) => bench.box),
  fieldset('Kinds of egg', apart.box), groups.map(({box}) => box),
  el('div', {class: 'row'}, el('button', {type: 'submit', class: 'main'}, 'Keep these changes'),
    el('a', {class: 'button', href: `#count/${count.id}`}, 'Leave all as it was')));
  forgiveOnInput(form);
  return form;
}

/** For the list: what is left to do of a count. */
export const shortProgress = (count) => occasions.filter((each) => count.bench[each] || isBegun(count, each))
  .map((each) => `${occasion_words[each]} ${count.samples[each].filter(isOver).length} ` +
    `of ${count.animals.length}`)
  .join(', ');
