export function begin(box) { box.append("judge"); }
