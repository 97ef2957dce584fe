// The page's pieces that need no browser: node pieces.mjs
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';

const page = new URL('../../src/web/page/', import.meta.url);
/** A file of the page that imports no other. */
const piece = (name) =>
  import(`data:text/javascript,${encodeURIComponent(readFileSync(new URL(name, page), 'utf8'))}`);

const { cellsOf, csvOf } = await piece('separated.js');
assert.deepEqual(cellsOf('a,"b ""c"", d"\n1,2\n'), [['a', 'b "c", d'], ['1', '2']]);
assert.deepEqual(cellsOf('a;b,c;d\n'), [['a', 'b,c', 'd']]);
assert.deepEqual(cellsOf('a,b', '\t'), [['a,b']]);
assert.deepEqual(cellsOf('a,"two\nlines"\r\n1,2'), [['a', 'two\nlines'], ['1', '2']]);
assert.deepEqual(cellsOf(''), []);
const rows = [['tag', 'say "hi"', 'x;y'], ['', '1,5', 'tab\there']];
assert.deepEqual(cellsOf(csvOf(rows), ','), rows);
assert.equal(csvOf([['two\nlines']]), 'two lines\n'); // so that the number of a line is that of its row

const { counted, inQuotes } = await piece('parts.js');
assert.equal(counted(1, 'egg'), '1 egg');
assert.equal(counted(0, 'egg'), '0 eggs');
assert.equal(inQuotes('a'), '"a"');

const { contentOf, keptFile } = await piece('kept_file.js');
const file = (bytes) => ({ name: 'f', arrayBuffer: async () => Uint8Array.from(bytes).buffer });
const text = await keptFile(file([0x61, 0xC3, 0xA9]));
assert.equal(contentOf(text), 'a\u00E9');
const bytes = Array.from({ length: 100_000 }, (_, index) => index % 256);
const kept = await keptFile(file(bytes));
assert.equal(kept.text, undefined);
assert.deepEqual([...contentOf(kept)], bytes);
console.log('ok');
