// Files as they are kept: bytes as text, since what keeps them keeps texts alone.

function base64Of(bytes) {
  const step = 0x8000;
  let text = '';
  for (let start = 0; start < bytes.length; start += step)
    text += String.fromCharCode(...bytes.subarray(start, start + step));
  return btoa(text);
}

const bytesOf = (base64) => Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));

/** A file as it is kept: text where it is text, for it takes less room. */
export async function keptFile(file) {
  const bytes = new Uint8Array(await file.arrayBuffer());
  try {
    const text = new TextDecoder('utf-8', {fatal: true, ignoreBOM: true}).decode(bytes);
    if (!text.includes('\0'))
      return {name: file.name, text};
  } catch { /* bytes, then */ }
  return {name: file.name, base64: base64Of(bytes)};
}

/** What the engine takes: a text, or bytes. */
export const contentOf = (file) => file.text ?? bytesOf(file.base64);
