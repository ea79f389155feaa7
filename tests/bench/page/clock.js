// In every page before its own scripts: how long the page takes to be usable, and from what a person does to the frame that
// shows it.
(() => {
  // A rendering step is one task with the frame's callbacks; a message sent in them comes after its painting.
  const painted = (then, drawing = () => {}) =>
    requestAnimationFrame(() => {
      drawing(performance.now());
      const channel = new MessageChannel();
      channel.port1.onmessage = () => then(performance.now());
      channel.port2.postMessage(0);
    });

  const usable = new Promise((resolve) => {
    const look = new MutationObserver(() => {
      if (!document.querySelector("main:not(.boot) h1")) return;
      look.disconnect();
      painted(resolve);
    });
    look.observe(document, { childList: true, subtree: true });
  });

  // The wasm's memory is nobody else's to see.
  let memory;
  for (const way of ["instantiate", "instantiateStreaming"]) {
    const made = WebAssembly[way];
    WebAssembly[way] = async (...given) => {
      const found = await made.apply(WebAssembly, given);
      memory ??= (found.instance ?? found).exports.memory;
      return found;
    };
  }

  const there = (selector, text) =>
    [...document.querySelectorAll(selector)].some((one) => one.textContent.includes(text));

  // What held the page up for 50 ms or more, past what was done for a step itself.
  const held = [];
  new PerformanceObserver((list) => {
    held.push(...list.getEntries().map(({ startTime, duration }) => [startTime, startTime + duration]));
  }).observe({ type: "longtask", buffered: true });

  let last;

  // Waits for the next event of a kind, and for the frame in which the selector finds the text.
  const arm = (kind, selector, text) => {
    let waited = 0;
    // How long a key waits in the queue shows at its first event; the second is sent apart by the driver.
    if (kind === "input")
      addEventListener("keydown", (event) => (waited = performance.now() - event.timeStamp), { capture: true, once: true });
    last = new Promise((resolve) => {
      addEventListener(
        kind,
        (event) => {
          const entered = performance.now();
          const began = kind === "input" ? entered - waited : event.timeStamp;
          let left = entered;
          addEventListener(kind, () => (left = performance.now()), { once: true });
          let drawn;
          const frame = () =>
            painted((now) => {
              if (!there(selector, text)) return frame();
              resolve({ began, waited: entered - began, work: left - entered + now - drawn, paint: now - began });
            }, (now) => (drawn = now));
          frame();
        },
        { capture: true, once: true },
      );
    });
  };

  const saved = () => {
    const said = document.getElementById("saved");
    return new Promise((resolve) => {
      const look = new MutationObserver(() => {
        if (said.textContent !== "saved") return;
        look.disconnect();
        resolve(performance.now());
      });
      look.observe(said, { childList: true, characterData: true, subtree: true });
      // So many changes upon each other are stored at once.
      if (said.textContent === "saved") resolve(performance.now());
    });
  };

  const pause = (milliseconds) => new Promise((resolve) => setTimeout(resolve, milliseconds));

  // The step that was armed last: once it is painted, and saved if it is to be, and so long after.
  const step = async (toSave, rest) => {
    const measured = await last;
    if (toSave) measured.saved = (await saved()) - measured.began;
    await pause(rest);
    const own = (from, to) => from <= measured.began + measured.paint && to >= measured.began;
    const others = held.filter(([from, to]) => to >= measured.began && !own(from, to));
    measured.held = Math.max(0, ...others.map(([from, to]) => to - from));
    return measured;
  };

  globalThis.kerbworthClock = { usable, arm, step, memory: () => memory?.buffer.byteLength ?? 0 };
})();
