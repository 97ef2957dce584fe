// A file as a module that holds it, packed: node packed.mjs FILE OUT. What is packed by gzip takes a
// third of the room, and every browser that can run it unpacks it by itself.
import {readFileSync, writeFileSync} from 'node:fs';
import {gzipSync} from 'node:zlib';

const [file, out] = process.argv.slice(2);
const packed = gzipSync(readFileSync(file), {level: 9}).toString('base64');
writeFileSync(out, `export default '${packed}';\n`);
