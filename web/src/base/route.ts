// Where the person is: the part of the address after '#/'. Its first word is the room, the rest a place in the room
// ("car/ratio/rear/spring"). Back and forward work as in any page.
import { computed, signal } from "@preact/signals";

const read = () => location.hash.replace(/^#\/?/, "").split("?")[0] || "start";
// What is not written as addresses are is taken as it stands.
function plain(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}
const address = signal(read());
export const route = computed(() => address.value.split("/")[0]!);
export const place = computed<readonly string[]>(() => address.value.split("/").slice(1).map(plain));

addEventListener("hashchange", () => {
  address.value = read();
});

export const hrefOf = (room: string) => `#/${room}`;
export function goTo(room: string) {
  location.hash = `/${room}`;
}
