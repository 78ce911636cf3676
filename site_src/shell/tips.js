// A word of the trade opens its meaning; without this it is a link to the glossary, as it is with a
// key held that opens links elsewhere.
const TOLD = {/* words */};
const CAN = "popover" in HTMLElement.prototype;

function made() {
  const tip = document.createElement("div");
  tip.className = "rig-tip";
  tip.popover = "auto";
  tip.tabIndex = -1;
  tip.setAttribute("role", "dialog");
  tip.append(document.createElement("b"), document.createElement("p"), document.createElement("a"));
  tip.lastChild.textContent = TOLD.about;
  return document.body.appendChild(tip);
}

function open(link, [word, means]) {
  const tip = document.querySelector(".rig-tip") ?? made();
  const [title, text, entry] = tip.children;
  title.textContent = word;
  text.textContent = means;
  entry.href = link.href;
  tip.setAttribute("aria-label", word);
  tip.hidePopover();
  tip.showPopover({ source: link });
  tip.focus();
}

document.addEventListener("click", (event) => {
  const link = event.target.closest("a.rig-term");
  const told = link && TOLD.words[link.hash.slice(1)];
  if (!CAN || !told || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  open(link, told);
});
