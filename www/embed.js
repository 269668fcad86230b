// The planner as the page of an <iframe>: attributes come in the address, the height goes to the page around it.

import "./rowlight-plan.js";

const plan = document.getElementById("plan");
for (const [name, value] of new URLSearchParams(location.search)) {
  if (plan.constructor.observedAttributes.includes(name)) plan.setAttribute(name, value);
}

// Told to the page around it and to nobody else: its origin is known from the address the visitor came from, or from its greeting.
let origin = null;
if (document.referrer) origin = new URL(document.referrer).origin;
const frame = document.getElementById("frame");
let told = 0;

function tell() {
  // The content, not the window: a window measured by itself would only ever grow.
  const height = Math.ceil(frame.getBoundingClientRect().height);
  if (origin === null || Math.abs(height - told) < 2) return;
  told = height;
  window.parent.postMessage({ type: "rowlight-height", height }, origin);
}

if (window.parent !== window) {
  new ResizeObserver(tell).observe(frame);
  window.addEventListener("message", (event) => {
    if (event.source !== window.parent || event.data?.type !== "rowlight-hello" || event.origin === "null") return;
    origin = event.origin;
    told = 0;
    tell();
  });
}
