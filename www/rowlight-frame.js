// For pages with <iframe data-rowlight src="…/embed.html">: gives each frame the height its planner asks for.

const [LOWEST, HIGHEST] = [200, 8000];

const frames = () => document.querySelectorAll("iframe[data-rowlight]");
const originOf = (frame) => new URL(frame.src, document.baseURI).origin;

window.addEventListener("message", (event) => {
  const { type, height } = event.data ?? {};
  if (type !== "rowlight-height" || !Number.isFinite(height)) return;
  for (const frame of frames()) {
    if (frame.contentWindow !== event.source || originOf(frame) !== event.origin) continue;
    frame.height = Math.min(Math.max(Math.ceil(height), LOWEST), HIGHEST);
  }
});

// A frame that stood before this script is asked once more.
for (const frame of frames()) {
  // To whoever is there by now: a greeting holds nothing.
  const greet = () => frame.contentWindow?.postMessage({ type: "rowlight-hello" }, "*");
  frame.addEventListener("load", greet);
  greet();
}
