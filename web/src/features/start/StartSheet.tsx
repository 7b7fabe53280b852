export function StartSheet() {
  return (
    <main class="sheet">
      <h1>Know how it will lean before you buy the bar.</h1>
    </main>
  );
}
