// Cells as text: a block copied from a spreadsheet, and a table written as CSV.

/** The sign between cells that stands most often in the first lines. */
function partingSign(text) {
  const first = text.split('\n', 10).join('\n');
  const often = (sign) => first.split(sign).length;
  if (first.includes('\t'))
    return '\t';
  return often(';') > often(',') ? ';' : ',';
}

/** The cells of a text, row by row, with a cell in quotes taken as a spreadsheet writes it. */
export function cellsOf(text, sign = partingSign(text)) {
  const rows = [[]];
  let cell = '';
  let quoted = false;
  const end = () => {
    rows.at(-1).push(cell);
    cell = '';
  };
  for (let position = 0; position < text.length; position++) {
    const letter = text[position];
    if (quoted) {
      if (letter !== '"')
        cell += letter;
      else if (text[position + 1] === '"')
        cell += text[++position];
      else
        quoted = false;
    } else if (letter === '"' && cell === '') {
      quoted = true;
    } else if (letter === sign) {
      end();
    } else if (letter === '\n') {
      end();
      rows.push([]);
    } else if (letter !== '\r') {
      cell += letter;
    }
  }
  if (cell !== '' || rows.at(-1).length > 0)
    end();
  else
    rows.pop();
  return rows;
}

const written = (cell) => (/["\n\r,;\t]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);

/** CSV with one line a row, so that the number of a line is that of its row. */
export const csvOf = (rows) =>
  rows.map((row) => row.map((cell) => written(cell.replace(/[\r\n]+/g, ' '))).join(',')).join('\n') + '\n';
