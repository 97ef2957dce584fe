// A count, and what may be done to it at the bench. Nothing here touches the page.
//
// A count as it is kept:
//   id, name, host, made, changed
//   kinds      names of eggs, the main one first, the others told apart from it
//   groups     [{name, role, drench, classes}]
//   animals    [{group: place in groups, animal, rest: cells of further columns}]
//   occasion   the one that is counted now: before or after
//   bench      by occasion {chambers, factor, alarm}, or null until it is known
//   known      by occasion {chambers, factor} that a table told of, or null
//   samples    by occasion, a sample or null for each animal
//   place      by occasion, the animal that is counted
//   trail      by occasion, what was done but for taps, to be undone
//
// A sample: state (open | done | absent | brought), kinds (how many were told apart when it was
// counted: a kind that came later was not counted in it, which is not the same as none), chambers
// [{taps, done}], of which taps has a digit for each egg, the place of its kind. One that was brought
// in with a table has {eggs, factor, apart} as texts. `replaced` has the eggs of counts done again.

export const occasions = ['before', 'after'];

const steps_kept = 200;
export const most_kinds = 6;

export const eggsIn = (chamber, kind) => {
  let eggs = 0;
  for (const tap of chamber.taps)
    eggs += Number(tap) === kind;
  return eggs;
};

const sumOf = (chambers, kind) => chambers.reduce((sum, chamber) => sum + eggsIn(chamber, kind), 0);

export const doneChambers = (sample) => sample.chambers.filter((chamber) => chamber.done);

/** Eggs of a kind in the chambers that are finished. */
export const eggsOf = (sample, kind) => sumOf(doneChambers(sample), kind);

export const isTouched = (sample) => sample !== null &&
  (sample.state !== 'open' || sample.chambers.some((chamber) => chamber.done || chamber.taps));

export const isOver = (sample) => isTouched(sample) && sample.state !== 'open';

export function newCount({name, host, kinds, groups, animals, occasion, bench, known = null, samples}) {
  const now = new Date().toISOString();
  const none = () => animals.map(() => null);
  return {
    id: Date.now().toString(36), name, host, made: now, changed: now, kinds, groups, animals, occasion,
    bench: {before: null, after: null, [occasion]: bench}, known,
    samples: {before: samples?.before ?? none(), after: samples?.after ?? none()},
    place: {before: 0, after: 0},
    trail: {before: [], after: []},
  };
}

/** An animal's tag; its group too where another group has the same tag, or where it is to be shown. */
export function nameOf(count, place, withGroup) {
  const {animal, group} = count.animals[place];
  const alone = count.animals.filter((each) => each.animal === animal).length === 1;
  return alone && !withGroup ? animal : `${animal} (${count.groups[group].name})`;
}

/** How far an occasion is: numbers of animals. */
export function progressOf(count, occasion) {
  const samples = count.samples[occasion];
  const absent = samples.filter((sample) => sample?.state === 'absent').length;
  const over = samples.filter(isOver).length;
  return {all: samples.length, counted: over - absent, absent, left: samples.length - over};
}

/** One occasion of a count, at the animal where it stands. */
export class Tally {
  constructor(count, occasion) {
    this.count = count;
    this.occasion = occasion;
    this.bench = count.bench[occasion];
  }

  get #samples() { return this.count.samples[this.occasion]; }
  get #trail() { return this.count.trail[this.occasion]; }
  get place() { return this.count.place[this.occasion]; }
  sampleAt(place) { return this.#samples[place]; }
  get sample() { return this.sampleAt(this.place); }
  get isOpen() { return !isOver(this.sample); }

  /** The chamber that is counted, from 0. */
  get chamber() {
    const position = this.sample?.chambers?.findIndex((chamber) => !chamber.done) ?? 0;
    return Math.max(position, 0);
  }

  /** Names of the kinds that are told apart in this sample. */
  get kinds() {
    return isTouched(this.sample) ? this.count.kinds.slice(0, this.sample.kinds) : this.count.kinds;
  }

  get chambers() { return Math.max(this.bench.chambers, this.sample?.chambers?.length ?? 0); }
  get eggsHere() { return this.sample?.chambers?.[this.chamber] ?? {taps: ''}; }
  get chambersDone() { return this.sample?.chambers ? doneChambers(this.sample).length : 0; }

  /** Eggs of the main kind in all of the sample so far, chambers that are not finished too. */
  get mainEggs() { return this.sample?.chambers ? sumOf(this.sample.chambers, 0) : 0; }

  /** One egg more. True where the number was just reached at which the user wants to be told. */
  tap(kind) {
    const sample = this.#opened();
    const before = this.mainEggs;
    sample.chambers[this.chamber].taps += kind;
    const {alarm} = this.bench;
    return alarm !== null && before < alarm && this.mainEggs >= alarm;
  }

  /** Takes back the last egg of the chamber ({egg: kind}), or else the last step ({step: its name}). */
  undo() {
    const {taps} = this.eggsHere;
    if (this.isOpen && taps) {
      this.sample.chambers[this.chamber].taps = taps.slice(0, -1);
      return {egg: Number(taps.at(-1))};
    }
    const step = this.#trail.pop();
    if (!step)
      return null;
    this.#samples[step.animal] = step.was;
    this.count.place[this.occasion] = step.at;
    return {step: step.name};
  }

  /** After the last chamber the next sample that is not counted comes up. */
  finishChamber() {
    this.#step('finished');
    const sample = this.#opened();
    sample.chambers[this.chamber].done = true;
    if (sample.chambers.every((chamber) => chamber.done))
      this.#close('done');
  }

  /** The chambers that are left are not counted: the sample rests on those that are finished. */
  leaveRest() {
    this.#step('left the rest');
    for (const chamber of this.sample.chambers)
      if (!chamber.done)
        chamber.taps = '';
    this.#close('done');
  }

  markAbsent() {
    this.#step('not sampled');
    this.#samples[this.place] = {...this.#fresh(), replaced: this.#replaced()};
    this.#close('absent');
  }

  /** To another animal; nothing of either changes. */
  go(place) {
    if (place === this.place)
      return;
    this.#step('moved');
    this.count.place[this.occasion] = place;
  }

  goOn() { this.go(this.#next()); }

  /** Opens one chamber of a finished sample again. */
  mend(chamber) {
    this.#step('mended');
    this.#fill(this.sample);
    this.sample.chambers[chamber].done = false;
    this.sample.state = 'open';
  }

  /** Starts the sample again; what it was is told beside it. */
  recount() {
    this.#step('counted again');
    this.#samples[this.place] = {...this.#fresh(), replaced: this.#replaced()};
  }

  get nothingLeft() { return progressOf(this.count, this.occasion).left === 0; }

  #fresh() {
    const sample = {state: 'open', kinds: this.count.kinds.length, chambers: []};
    this.#fill(sample);
    return sample;
  }

  /** As many chambers as are counted now; a sample that has more keeps them. */
  #fill(sample) {
    while (sample.chambers.length < this.bench.chambers)
      sample.chambers.push({taps: '', done: false});
  }

  #opened() {
    if (!isTouched(this.sample))
      this.#samples[this.place] = {...this.#fresh(), replaced: this.sample?.replaced ?? []};
    this.#fill(this.sample);
    return this.sample;
  }

  #replaced() {
    const {sample} = this;
    const earlier = sample?.replaced ?? [];
    if (sample?.state === 'brought')
      return [...earlier, `${sample.eggs} eggs brought in`];
    if (!sample?.chambers?.some((chamber) => chamber.done || chamber.taps))
      return earlier;
    return [...earlier, sample.chambers.filter((chamber) => chamber.done || chamber.taps)
      .map((chamber) => eggsIn(chamber, 0)).join(' + ')];
  }

  #close(state) {
    this.sample.state = state;
    this.count.place[this.occasion] = this.#next();
  }

  #next() {
    const all = this.#samples.length;
    for (let on = 1; on <= all; ++on) {
      const place = (this.place + on) % all;
      if (!isOver(this.#samples[place]))
        return place;
    }
    return this.place;
  }

  /** Remembers how things stand, to be taken back. */
  #step(name) {
    this.#trail.push({name, at: this.place, animal: this.place, was: structuredClone(this.sample)});
    if (this.#trail.length > steps_kept)
      this.#trail.shift();
  }
}
