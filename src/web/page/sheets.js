export function begin(box) { box.append("sheets"); }
