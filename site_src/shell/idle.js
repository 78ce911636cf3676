// When a page does what nobody waits for.

/** Does a task when the browser has nothing else to do. */
export function whenIdle(task) {
  if (window.requestIdleCallback) requestIdleCallback(task, { timeout: 3000 });
  else setTimeout(task, 500);
}

/** Does a task once what is shown now is painted; a page that is not looked at is never painted. */
export function afterPaint(task) {
  if (document.hidden) task();
  else requestAnimationFrame(() => setTimeout(task));
}
