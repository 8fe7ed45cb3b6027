// A set: progress of its boards, and other work told in words.
import { keepInStep, remember, tell } from "/static/link.js";
import { enqueue } from "/static/queue.js";

const SET = document.body.dataset.set;
const form = document.getElementById("work");
let turn = () => {};

form.addEventListener("submit", (event) => {
  event.preventDefault();
  const value = (id) => document.getElementById(id).value.trim();
  if (!value("worktext")) return;
  const data = { what: value("what"), text: value("worktext") };
  if (value("with")) data.with = value("with");
  enqueue("work", SET, value("workboard") || null, null, data);
  form.reset();
  tell("asking");
  turn();
});

remember();
turn = keepInStep(SET, (state) => {
  for (const bar of document.querySelectorAll(".bar")) {
    const done = state.progress?.[bar.dataset.board];
    if (!done) continue;
    bar.querySelector("progress").value = done.in;
    bar.querySelector("progress").max = done.total || 1;
    bar.querySelector(".count").textContent = `${done.in} of ${done.total} in, ${done.checked} checked`;
  }
  if (state.story) {
    document.querySelector(".story").replaceChildren(...state.story.map((line) => {
      const item = document.createElement("li");
      item.append(Object.assign(document.createElement("time"), { textContent: line.when }), ` ${line.text}`);
      return item;
    }));
  }
});
