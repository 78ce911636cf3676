// Before an answer page is drawn: an address that brings no details needs no word about them. Where
// no script runs, and where the one that reads them does not come, that word stands.
if (!location.hash.includes("=")) document.documentElement.dataset.given = "nothing";
addEventListener("hashchange", () => delete document.documentElement.dataset.given);
