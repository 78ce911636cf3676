// Puts what the engine drew into the page, and leaves what a hand did there as it is.
import { parsed } from "./door.js";
import { whenIdle } from "./idle.js";
import { FIELDS, isTyped, isTyping } from "./typed.js";
import { Idiomorph } from "./idiomorph.js";

const BORDER = /<!--(?:region|end)-->/; // see Drawn in engine/pages/render.py
const BODY = /<!--body ([\w-]+)-->([^]*?)<!--body-->/g;
const LATER = "<!--later-->";
const CHAPTERS = ".rig-chapter > details";
const HELD = `details[open], :focus, ${FIELDS}`; // what a hand may have changed; scrolled too

let shown = []; // the texts around and between the borders, as they stand in the page
const bodies = {}; // what each chapter holds, by the id of its title, as it stands in the page
const scrolled = new WeakSet();

const answer = () => document.getElementById("rig-answer");

/** Puts a reply into the page.
 *
 * Between two borders stand the elements of a region of the answer that changes by itself; what
 * is around the regions seldom changes. Texts are compared before they are parsed: most stay the same.
 */
export function renew(reply) {
  const html = filled(reply);
  const texts = html.split(BORDER);
  const borders = bordersIn(answer());
  const isSame = (text, at) => isPart(at) || text === shown[at];
  if (borders.length + 1 === texts.length && texts.every(isSame)) renewRegions(texts, borders);
  else renewAll(html, borders);
  shown = texts;
}

/** The same where nobody asked, each step when the browser is idle, until somebody asks. */
export async function renewUnseen(reply, isDisturbed) {
  const html = filled(reply);
  for (const step of stepsOfAll(html, [])) {
    await new Promise(whenIdle);
    if (isDisturbed()) return;
    step();
  }
  shown = html.split(BORDER);
}

// What a chapter holds that is put off stays as it is, unseen, until it comes.
function filled(html) {
  return html.replace(BODY, (_, id, text) => {
    if (text !== LATER) bodies[id] = text;
    return bodies[id];
  });
}

/** Whether a reply stands in the page, and with it the borders. */
export const isRenewed = () => shown.length > 0;

/** The ids of the titles of closed chapters, where what they hold may come later than the rest. */
export const closedChapters = () =>
  isRenewed() ? [...answer().querySelectorAll(`${CHAPTERS}:not([open])`)].map(titleOf) : [];

/** A part of the page that was scrolled is kept, as one that has the focus is. */
export const keepScrolled = (part) => scrolled.add(part);

const titleOf = (fold) => fold.parentElement.getAttribute("aria-labelledby");

/** Marks the chapters that wait for what they hold, by the ids of their titles. */
export function markLater(ids) {
  for (const fold of answer().querySelectorAll(CHAPTERS)) {
    if (ids.includes(titleOf(fold))) fold.dataset.rigLater = "";
    else delete fold.dataset.rigLater;
  }
}

function renewAll(html, borders) {
  for (const step of stepsOfAll(html, borders)) step();
}

// Marks would stand in the way when old and new elements are matched: they are put in afterwards.
function stepsOfAll(html, borders) {
  let fresh, places;
  return [
    () => { fresh = parsed(html).firstElementChild; },
    () => {
      places = bordersIn(fresh).map(placeIn(fresh));
      for (const border of [...borders, ...places.map(({ border }) => border)]) border.remove();
      for (const tree of [answer(), fresh]) tree.normalize(); // joins the text around each border
    },
    () => morph(answer(), fresh),
    () => putBorders(places),
  ];
}

function putBorders(places) {
  for (const { border, path, before } of places) {
    const parent = path.reduce((element, at) => element.children[at], answer());
    parent.insertBefore(border, parent.children[before] ?? null);
  }
}

// Where a border stands: the way down to its parent, and how many elements stand there before it.
function placeIn(root) {
  const order = (element) => [...element.parentNode.children].indexOf(element);
  return (border) => {
    const path = [];
    for (let up = border.parentNode; up !== root; up = up.parentNode) path.unshift(order(up));
    let before = 0;
    for (let left = border.previousElementSibling; left; left = left.previousElementSibling) before++;
    return { border, path, before };
  };
}

const isPart = (at) => at % 2 === 1;

function bordersIn(root) {
  const walker = document.createTreeWalker(root, NodeFilter.SHOW_COMMENT);
  const found = [];
  while (walker.nextNode()) found.push(walker.currentNode);
  return found;
}

function renewRegions(texts, borders) {
  const changed = [];
  texts.forEach((text, at) => {
    if (!isPart(at)) return;
    const old = nodesBetween(borders[at - 1], borders[at]);
    if (text !== shown[at] || elements(old).some(isTyped)) changed.push({ text, old, end: borders[at] });
  });
  const fresh = parsed(changed.map(({ text }) => `<div>${text}</div>`).join("")).children;
  changed.forEach(({ old, end }, place) => renewPart(old, [...fresh[place].childNodes], end));
}

function nodesBetween(start, end) {
  const found = [];
  for (let node = start.nextSibling; node !== end; node = node.nextSibling) found.push(node);
  return found;
}

const elements = (nodes) => nodes.filter((node) => node.nodeType === Node.ELEMENT_NODE);

function renewPart(old, fresh, end) {
  const [mine, theirs] = [elements(old), elements(fresh)];
  if (mine.length === theirs.length && mine.some(isHeld)) {
    mine.forEach((element, place) => morph(element, theirs[place]));
  } else {
    for (const node of old) node.remove();
    end.before(...fresh);
  }
}

// A new element in the place of the old is put in faster, where nobody can have touched the old.
const isHeld = (element) =>
  element.matches(HELD) ||
  element.querySelector(HELD) !== null ||
  [element, ...element.querySelectorAll(".rig-scroll")].some((part) => scrolled.has(part));

/** Puts HTML that the engine made into an element, keeping what is the same in place. */
export function fill(element, html) {
  const parts = [...parsed(html).childNodes];
  Idiomorph.morph(element, parts, { morphStyle: "innerHTML", ignoreActiveValue: isTyping() });
}

function morph(old, fresh) {
  Idiomorph.morph(old, fresh, {
    morphStyle: "outerHTML",
    ignoreActiveValue: isTyping(),
    callbacks: { beforeAttributeUpdated: mayUpdate, beforeNodeMorphed: mayMorph },
  });
}

// The form was unhidden and parts were opened by hand: the engine's text knows neither.
function mayUpdate(name, element) {
  return !(name === "open" || (name === "hidden" && element.id === "rig-details"));
}

// What is the same is passed over whole, by the browser itself, which compares much faster. Fields
// are looked at one by one, since what is typed in them stands in no attribute.
function mayMorph(old, fresh) {
  if (old.nodeType !== Node.ELEMENT_NODE) return true;
  if (old.hasAttribute("data-rig-keep")) return false;
  return !old.isEqualNode(fresh) || old.querySelector(FIELDS) !== null || old.matches(FIELDS);
}
