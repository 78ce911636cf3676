// A word of the trade opens its meaning; without this it is a link to the glossary.
for (const link of document.querySelectorAll("a.rig-term")) {
  if (!("popover" in link)) {
    break;
  }
  const button = document.createElement("button");
  button.type = "button";
  button.className = link.className;
  button.textContent = link.textContent;
  const tip = link.nextElementSibling;
  tip.hidden = false;
  button.popoverTargetElement = tip;
  link.replaceWith(button);
}
