// The photo of the board and the pins on it.
const STEP = 0.02;

/** Handle the photo of one board. `act.pin(ref, data)`, `act.open(ref)`, `act.uploaded()` do the work. */
export function photoOf(set, board, act) {
  const $ = (id) => document.getElementById(id);
  const [stage, picture, pins, cross] = [$("stage"), $("picture"), $("pins"), $("cross")];
  const [pinning, unpin, pinrow, pinref, help] = [$("pinning"), $("unpin"), $("pinrow"), $("pinref"), $("pinhelp")];
  let places = [];
  let active = false;
  let seen = false;
  let at = [0.5, 0.5];

  function draw(shot, now, next) {
    places = now;
    stage.hidden = !shot;
    pinning.hidden = !shot;
    if (shot) {
      if (!seen) { seen = true; $("photo").open = true; }
      const address = `/photo/${shot.digest}.jpg`;
      // Its place is kept before it is loaded, and pins keep their places on it at any size.
      stage.style.width = `min(100%, calc(70vh * ${shot.ratio}))`;
      picture.style.aspectRatio = String(shot.ratio);
      if (picture.getAttribute("src") !== address) picture.src = address;
    }
    const wanted = places.filter((place) => place.pin);
    const there = new Map([...pins.children].map((pin) => [pin.dataset.ref, pin]));
    for (const place of wanted) {
      const pin = there.get(place.ref) || pins.appendChild(newPin(place.ref));
      there.delete(place.ref);
      pin.style.left = `${place.pin[0] * 100}%`;
      pin.style.top = `${place.pin[1] * 100}%`;
      const done = place.stages.in.state === "done";
      pin.classList.toggle("done", done);
      pin.classList.toggle("next", place.ref === next);
      pin.setAttribute("aria-label", `${place.ref}, ${place.value}, ${done ? "in" : "not in"}${place.ref === next ? ", next" : ""}`);
    }
    for (const pin of there.values()) pin.remove();
    unpin.hidden = !active || !places.find((place) => place.ref === pinref.value)?.pin;
  }

  function newPin(ref) {
    const pin = document.createElement("button");
    pin.type = "button";
    pin.className = "pin";
    pin.dataset.ref = ref;
    pin.textContent = ref;
    return pin;
  }

  function setActive(on) {
    active = on;
    pinning.setAttribute("aria-pressed", String(on));
    pinning.textContent = on ? "Pins are placed" : "Place pins";
    stage.classList.toggle("pinning", on);
    pinrow.hidden = !on;
    help.hidden = !on;
    cross.hidden = true;
    if (on) {
      stage.tabIndex = 0;
      stage.setAttribute("role", "application");
      const open = places.find((place) => !place.pin);
      if (open) pinref.value = open.ref;
      explain();
    } else {
      stage.removeAttribute("tabindex");
      stage.removeAttribute("role");
      stage.removeAttribute("aria-label");
    }
    unpin.hidden = !on || !places.find((place) => place.ref === pinref.value)?.pin;
  }

  function explain() {
    help.textContent = `Tap where ${pinref.value} is. By keyboard: arrows move the ring, Enter places it.`;
    stage.setAttribute("aria-label", `Place ${pinref.value} on the photo: arrows move, Enter places`);
  }

  function place(x, y) {
    const ref = pinref.value;
    act.pin(ref, { x: clamp(x), y: clamp(y) });
    const later = places.slice(places.findIndex((p) => p.ref === ref) + 1).find((p) => !p.pin);
    if (later) pinref.value = later.ref;
    explain();
  }

  const clamp = (n) => Math.round(Math.min(1, Math.max(0, n)) * 10000) / 10000;

  function ring() {
    cross.hidden = false;
    cross.style.left = `${at[0] * 100}%`;
    cross.style.top = `${at[1] * 100}%`;
  }

  stage.addEventListener("click", (event) => {
    const pin = event.target.closest(".pin");
    if (!active) { if (pin) act.open(pin.dataset.ref); return; }
    if (pin) { pinref.value = pin.dataset.ref; explain(); unpin.hidden = false; return; }
    const box = picture.getBoundingClientRect();
    place((event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height);
  });
  stage.addEventListener("keydown", (event) => {
    if (!active || event.target !== stage) return;
    const moves = { ArrowLeft: [-STEP, 0], ArrowRight: [STEP, 0], ArrowUp: [0, -STEP], ArrowDown: [0, STEP] };
    if (moves[event.key]) { at = at.map((n, i) => clamp(n + moves[event.key][i])); ring(); event.preventDefault(); }
    if (event.key === "Enter") { place(...at); event.preventDefault(); }
    if (event.key === "Escape") { setActive(false); pinning.focus(); }
  });
  pinning.addEventListener("click", () => setActive(!active));
  pinref.addEventListener("change", () => { explain(); unpin.hidden = !places.find((p) => p.ref === pinref.value)?.pin; });
  unpin.addEventListener("click", () => act.pin(pinref.value, {}));
  $("upload").addEventListener("change", async (event) => {
    const [file] = event.target.files;
    event.target.value = "";
    if (!file) return;
    help.hidden = false;
    help.textContent = "Sending the photo …";
    const query = new URLSearchParams({ set, board });
    try {
      const answer = await fetch(`/api/photo?${query}`, { method: "POST", headers: { "content-type": "application/octet-stream" }, body: file });
      help.textContent = answer.ok ? "Photo stored. Place the pins next." : `The photo was not taken: ${(await answer.json()).reason}`;
      act.uploaded();
    } catch {
      help.textContent = "The photo was not sent: no connection to the bench. Choose it again later.";
    }
  });

  /** Show where a position lies. */
  function light(ref) {
    $("photo").open = true;
    for (const pin of pins.children) pin.classList.toggle("lit", pin.dataset.ref === ref);
    const pin = [...pins.children].find((one) => one.dataset.ref === ref);
    pin?.scrollIntoView({ block: "center" });
    pin?.focus({ preventScroll: true });
  }

  return { draw, light };
}
