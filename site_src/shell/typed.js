// What a hand has put into fields since the engine last filled them.

export const FIELDS = "input, select, textarea";

/** Whether a field within an element holds something else than what the engine last put there. */
export const isTyped = (part) => [...part.querySelectorAll(FIELDS)].some(isChanged);

// A box to tick has a value that it never had by default.
export const isChanged = (field) => {
  if (field.options) return [...field.options].some((each) => each.selected !== each.defaultSelected);
  const isTicked = field.checked !== field.defaultChecked;
  return isTicked || (field.type !== "checkbox" && field.value !== field.defaultValue);
};

/** Whether something is typed in the field that has the focus and stands nowhere else yet. */
export const isTyping = () =>
  document.activeElement.matches(FIELDS) && isChanged(document.activeElement);
