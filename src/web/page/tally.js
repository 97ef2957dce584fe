export function begin(box) { box.append("tally"); }
