// Steps that can be taken back and taken again. A state is never changed, only followed by another.

const most_steps = 200;

export function makeHistory(first) {
  let past = [];
  let now = first;
  let future = [];
  return {
    now: () => now,
    follow(state) {
      past = [...past.slice(1 - most_steps), now];
      now = state;
      future = [];
    },
    undo() {
      if (past.length === 0)
        return false;
      future.push(now);
      now = past.pop();
      return true;
    },
    redo() {
      if (future.length === 0)
        return false;
      past.push(now);
      now = future.pop();
      return true;
    },
    canUndo: () => past.length > 0,
    canRedo: () => future.length > 0,
  };
}
