export function begin(box) { box.append("plan"); }
