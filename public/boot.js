// Starts the worksheet, and stays when it cannot go on: what must work when the wasm does not is here, in plain JavaScript.
//
// Between this file and the app, events on `window`:
//   kerbworth-panic      app to boot   the app is about to stop; `detail` says where and why
//   kerbworth-update     boot to app   a new version is stored and waits; <html data-update="ready"> says the same
//   kerbworth-take-over  app to boot   the person agreed: change to the new version and open again
//   kerbworth-offline    boot to app   `detail` is "ready" (opens without a network from now on) or "failed"; <html data-offline>
//   kerbworth-stored     app to boot   local storage was given a text, or lost one, under the key `detail`
//   kerbworth-written    boot to app   all of these are on the disk, and not only on their way there

const STOPPED = {
  title: "The worksheet stopped",
  text: "Something went wrong inside Kerbworth, and it cannot go on in this window.",
};
const NOT_STARTED = {
  title: "Kerbworth could not open",
  text:
    "The program could not be loaded or started. The connection may have broken while it was loading, or this browser " +
    "may be too old: it must know WebAssembly.",
};
const root = document.documentElement;
const { js, wasm, integrity } = document.getElementById("boot").dataset;
// A page in one file (.ci/one-file) brings the app along, and is there without a network anyway.
const whole = globalThis.kerbworthInOneFile;
let rescued = false;

// Listening begins before the app does: a start can fail too.
addEventListener("kerbworth-panic", (event) => rescue(STOPPED, event.detail));
addEventListener("error", (event) => trapped(event.error));
addEventListener("unhandledrejection", (event) => trapped(event.reason));

// Who stores nothing here has nothing to wait for.
const texts = openTexts().catch(() => null);
let unwritten = 0;
addEventListener("kerbworth-stored", (event) => write(event.detail));

try {
  await Promise.race([recover().catch(() => {}), wait(2000)]);
  const app = whole ?? (await import(new URL(js, document.baseURI)));
  await app.default({ module_or_path: whole?.bytes ?? fetch(new URL(wasm, document.baseURI), { integrity }) });
  document.getElementById("opening")?.remove();
} catch (error) {
  rescue(NOT_STARTED, error);
}
if (whole) tell("offline", "ready");
else await keepForOffline();

// --- when the worksheet cannot go on ------------------------------------------------------------------------------------

// A trap of the wasm is the end of it. Any other error is one action's own, and the console has it.
function trapped(error) {
  if (error instanceof WebAssembly.RuntimeError) rescue(STOPPED, error);
}

// Puts a plain page in place of the worksheet: what happened, that the data is safe, and the data. The first cause is shown;
// the trap that follows a panic says less.
function rescue({ title, text }, cause) {
  if (rescued) return;
  rescued = true;
  const heading = element("h1", title);
  heading.tabIndex = -1;
  const stored = readStored();
  const save = button("Save what is stored as a file", saveStored);
  save.hidden = !stored || Object.keys(stored).length === 0;
  const page = element(
    "main",
    heading,
    element("p", text),
    element("p", safety(stored)),
    button("Open Kerbworth again", () => location.reload()),
    save,
    element("h2", "If it happens again"),
    element("p", "Fetch the program anew. That needs a network and leaves what is stored alone; save the file first all the same."),
    button("Fetch the program anew", fetchAnew),
    element("h2", "What happened"),
    element("p", String(cause)),
  );
  page.className = "boot";
  page.lastElementChild.className = "what";
  document.title = `${title} – Kerbworth`;
  document.body.replaceChildren(page);
  heading.focus();
}

function safety(stored) {
  if (!stored) return "This browser lets the page store nothing, so what was entered in this window is lost.";
  if (Object.keys(stored).length === 0) return "Nothing has been stored in this browser yet.";
  return (
    "What you entered is safe: it is stored in this browser as it is entered. You can also save it as a file. " +
    "Photos are stored apart and are not in that file; they are there again when Kerbworth opens."
  );
}

// Every `kerbworth` key of the local storage with its text exactly as stored, or null where storage is denied.
function readStored() {
  try {
    const keys = Object.keys(localStorage).filter((key) => key.startsWith("kerbworth"));
    return Object.fromEntries(keys.sort().map((key) => [key, localStorage.getItem(key)]));
  } catch {
    return null;
  }
}

function saveStored() {
  const file = { kind: "kerbworth-rescue", version: 1, saved: new Date().toISOString(), stored: readStored() ?? {} };
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([JSON.stringify(file, null, 1)], { type: "application/json" }));
  link.download = `kerbworth-rescue-${file.saved.slice(0, 10)}.json`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

// Without the worker, the next opening loads everything from the host. Not while offline: then there would be nothing left.
async function fetchAnew() {
  if (!navigator.onLine) {
    alert("There is no network now. Please try this when there is one.");
    return;
  }
  const registration = await navigator.serviceWorker?.getRegistration();
  await registration?.unregister();
  location.reload();
}

function element(name, ...inside) {
  const made = document.createElement(name);
  made.append(...inside);
  return made;
}

function button(label, action) {
  const made = element("button", label);
  made.type = "button";
  made.addEventListener("click", action);
  return made;
}

// --- what is stored, once more ---------------------------------------------------------------------------------------------
//
// Chromium writes local storage to the disk some seconds after it was given a text: a browser that is killed before loses what
// the screen called saved. The database says when a text is on the disk. So each goes there as well, and the newer one counts.

function openTexts() {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open("kerbworth-texts", 1);
    request.onupgradeneeded = () => request.result.createObjectStore("texts");
    request.onsuccess = () => resolve(request.result);
    request.onerror = reject;
  });
}

function wait(milliseconds) {
  return new Promise((resolve) => setTimeout(resolve, milliseconds));
}

// The revision that the envelope says (app/src/store/envelope.rs). A text that does not say it is left as it is.
function revision(text) {
  return text == null ? -1 : Number(/"revision":(\d+)/.exec(text)?.[1] ?? Infinity);
}

async function write(key) {
  unwritten += 1;
  const text = localStorage.getItem(key);
  const database = await texts;
  await new Promise((resolve, reject) => {
    const transaction = database.transaction("texts", "readwrite", { durability: "strict" });
    transaction.oncomplete = resolve;
    transaction.onabort = reject;
    const store = transaction.objectStore("texts");
    if (text === null) store.delete(key);
    // Another tab may have been faster with a newer one.
    else store.get(key).onsuccess = ({ target }) => revision(target.result) <= revision(text) && store.put(text, key);
  }).catch(() => wait(10_000)); // Without a database, the time that local storage needs.
  unwritten -= 1;
  if (unwritten === 0) dispatchEvent(new Event("kerbworth-written"));
}

async function recover() {
  const store = (await texts).transaction("texts").objectStore("texts");
  const [keys, all] = await Promise.all([store.getAllKeys(), store.getAll()].map(result));
  keys.forEach((key, at) => {
    if (revision(localStorage.getItem(key)) < revision(all[at])) localStorage.setItem(key, all[at]);
  });
}

function result(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = reject;
  });
}

// --- working without a network, and new versions --------------------------------------------------------------------------

async function keepForOffline() {
  // No worker outside https and localhost: the worksheet works, but needs the network to open.
  if (!("serviceWorker" in navigator)) return;
  try {
    const registration = await navigator.serviceWorker.register("./sw.js", { updateViaCache: "none" });
    follow(registration);
    registration.addEventListener("updatefound", () => follow(registration));
    if (registration.active) tell("offline", "ready");
    addEventListener("kerbworth-take-over", () => takeOver(registration));
    // Browsers look for a new version when a page is opened; this one may stay open for days.
    document.addEventListener("visibilitychange", () => document.hidden || registration.update().catch(() => {}));
  } catch (error) {
    console.warn("Kerbworth is not stored for opening without a network:", error);
    tell("offline", "failed");
  }
}

// Watches a worker that is storing its build. Beside an active one it is a new version, which waits to be asked. On a busy
// page it may be waiting already.
function follow(registration) {
  const worker = registration.installing;
  if (registration.waiting) tell("update", "ready");
  worker?.addEventListener("statechange", () => {
    if (worker.state === "installed" && registration.active) tell("update", "ready");
    if (worker.state === "activated") tell("offline", "ready");
    if (worker.state === "redundant" && !registration.active) tell("offline", "failed");
  });
}

function takeOver(registration) {
  // Another tab may have changed to it already.
  if (!registration.waiting) return location.reload();
  navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
  registration.waiting.postMessage("take-over");
}

// The attribute is for whoever starts listening late.
function tell(what, state) {
  root.dataset[what] = state;
  dispatchEvent(new CustomEvent(`kerbworth-${what}`, { detail: state }));
}
