/**
 * The sound and the buzz of a clock that has come to its end. Made by the browser itself, so that it needs no file
 * and no network. A page may sound only after it was touched: until then it is silent, and says so.
 */
let context: AudioContext | undefined;

/** Whether the page was touched since it was opened, so that it may sound. */
const maySound = (): boolean => navigator.userActivation?.hasBeenActive ?? context?.state === "running";

/** Makes the bell ready. Called from a touch or a key: browsers give sound for nothing else. */
export function readyBell(): void {
  if (typeof AudioContext === "undefined") return;
  context ??= new AudioContext();
  // A refusal leaves it suspended: the next touch asks again.
  if (context.state === "suspended") context.resume().catch(() => undefined);
}

/** Three short tones and a buzz; else why there is no sound: the page was not touched yet, or the browser has none. */
export function ringBell(): "rang" | "not touched" | "no sound" {
  if (!maySound()) return "not touched";
  if (typeof navigator.vibrate === "function") navigator.vibrate([200, 100, 200, 100, 400]);
  readyBell();
  if (context === undefined) return "no sound";
  const now = context.currentTime;
  for (const [i, pitch] of [880, 880, 1175].entries()) {
    const tone = context.createOscillator();
    const loudness = context.createGain();
    const from = now + i * 0.28;
    tone.frequency.value = pitch;
    loudness.gain.setValueAtTime(0, from);
    loudness.gain.linearRampToValueAtTime(0.35, from + 0.02);
    loudness.gain.linearRampToValueAtTime(0, from + 0.22);
    tone.connect(loudness).connect(context.destination);
    tone.start(from);
    tone.stop(from + 0.24);
  }
  return "rang";
}
