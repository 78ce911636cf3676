// Moves of the focus and of what is in sight, within an answer page.

/** Moves within the page; the address keeps the answers that stand in its fragment. */
export function moveTo(id) {
  const place = document.getElementById(id);
  if (!place) return false;
  for (let fold = place.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
  focusOn(place);
  place.scrollIntoView();
  return true;
}

export function focusOn(place) {
  if (place.tabIndex < 0) place.tabIndex = -1;
  place.focus({ preventScroll: true });
}

/** What a link or an address brought is new to who reads it: the focus goes to its heading. */
export function moveToHeading() {
  document.getElementById("rig-answer").querySelector("h1").focus({ preventScroll: true });
  scrollTo(0, 0);
}
