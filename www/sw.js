// Keeps the planner for use without a network. The build writes the list of files below, each with its CRC-32, and a name for their
// version: a visitor gets all files of one version or all of another, never a mixture.

const VERSION = "none";
const FILES = {};

const OURS = "rowlight ";
const CACHE = OURS + VERSION;
const FOLDER = new URL("./", self.location.href);
// Of the two modules only the one this browser runs.
const OTHER = new URL(self.location.href).searchParams.get("module") === "rowlight" ? /^rowlight-plain[-._]/ : /^rowlight(?!-plain)(-.*)?_bg\.wasm$|^rowlight(-rooms)?\.js$/;
const KEPT = Object.keys(FILES).filter((name) => !OTHER.test(name));

const TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  for (let bit = 0; bit < 8; bit++) byte = byte & 1 ? 0xedb88320 ^ (byte >>> 1) : byte >>> 1;
  return byte;
});

function crc32(bytes) {
  let sum = 0xffffffff;
  for (const byte of bytes) sum = TABLE[(sum ^ byte) & 255] ^ (sum >>> 8);
  return (sum ^ 0xffffffff) >>> 0;
}

async function keep(cache, name) {
  const address = new URL(name, FOLDER);
  // Past the browser's own cache, which may still hold a file of an earlier version.
  const response = await fetch(address, { cache: "no-cache" });
  if (!response.ok) throw new Error(`${name}: ${response.status}`);
  // A host that is just being written to may send a file of another version; then nothing is kept, and the next visit tries again.
  const bytes = await response.arrayBuffer();
  if (crc32(new Uint8Array(bytes)) !== FILES[name]) throw new Error(`${name} is of another version`);
  // Made anew: a page may not be answered with what came by way of another address, as hosts send who leave out “.html”.
  await cache.put(address, new Response(bytes, { headers: response.headers }));
}

self.addEventListener("install", (event) => {
  const kept = async () => {
    const cache = await caches.open(CACHE);
    try {
      await Promise.all(KEPT.map((name) => keep(cache, name)));
    } catch (reason) {
      await caches.delete(CACHE);
      throw reason;
    }
  };
  event.waitUntil(kept());
});

// A new version waits until no page of the old one is open. Only then the old files go.
self.addEventListener("activate", (event) => {
  const tidied = async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith(OURS) && name !== CACHE) await caches.delete(name);
    }
  };
  event.waitUntil(tidied());
});

self.addEventListener("fetch", (event) => {
  const address = new URL(event.request.url);
  if (event.request.method !== "GET" || !address.href.startsWith(FOLDER.href)) return;
  const asked = address.pathname.slice(FOLDER.pathname.length) || "index.html";
  const name = [asked, `${asked}.html`].find((name) => KEPT.includes(name));
  if (!name) return;
  const answered = async () => {
    const kept = await (await caches.open(CACHE)).match(new URL(name, FOLDER));
    return kept ?? fetch(event.request);
  };
  event.respondWith(answered());
});
