/** Says at the end what these tests do not show. */
export default function guestNotRun(): () => void {
  return () => console.log("Linux's own USB driver was not run: 'npm run guest' does that.");
}
