import { afterEach } from "vitest";

// Each test starts from an empty page and an empty store.
afterEach(() => {
  document.body.replaceChildren();
  localStorage.clear();
});
