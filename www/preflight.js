// A classic script, because the causes it looks for keep modules from running at all: a page opened as a file may not load
// modules, and an old browser doesn't know them.
(function () {
  var old = "This browser is too old for the planner. Any browser brought up to date since 2023 will do.";
  var cause;
  function hasSheets() {
    try {
      return !!new CSSStyleSheet().replaceSync;
    } catch (reason) {
      return false;
    }
  }
  if (location.protocol === "file:") {
    cause =
      "This page was opened as a file. Browsers run its program only from a web server: put the folder on any static host, " +
      "or start one in it.";
  } else if (
    !("noModule" in HTMLScriptElement.prototype) ||
    typeof WebAssembly !== "object" ||
    typeof BigInt64Array === "undefined"
  ) {
    cause = old;
  }
  // What an element in somebody else's page needs besides.
  var apart = cause || (Object.hasOwn && hasSheets() ? "" : old);
  function say(cause, before, words) {
    if (!cause) return;
    var message = document.createElement("p");
    message.className = "boot-message";
    message.setAttribute("role", "alert");
    message.textContent = cause + words;
    before(message);
  }
  var host = document.getElementById("rowlight");
  if (host) say(cause, host.appendChild.bind(host), " The drawings below show the plan it starts with.");
  // Elements that no module has made into planners: the message stands before each.
  [].forEach.call(document.querySelectorAll("rowlight-plan"), function (plan) {
    say(apart, function (message) {
      plan.parentNode.insertBefore(message, plan);
    }, "");
  });
})();
