// Where the person is: the part of the address after '#/'. Back and forward work as in any page.
import { signal } from "@preact/signals";

const read = () => location.hash.replace(/^#\/?/, "").split("?")[0] || "start";
export const route = signal(read());

addEventListener("hashchange", () => {
  route.value = read();
});

export const hrefOf = (room: string) => `#/${room}`;
export function goTo(room: string) {
  location.hash = `/${room}`;
}
