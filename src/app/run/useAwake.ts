import { useEffect, useState } from "react";

/** Keeps the screen on while wanted, where the browser can. False when it may go dark. */
export function useAwake(wanted: boolean): boolean {
  const [awake, setAwake] = useState(false);
  useEffect(() => {
    if (!wanted || !("wakeLock" in navigator)) return;
    let lock: WakeLockSentinel | undefined;
    let ended = false;
    const ask = () => {
      if (document.visibilityState !== "visible") return;
      navigator.wakeLock.request("screen").then(
        (held) => {
          if (ended) {
            void held.release();
            return;
          }
          lock = held;
          setAwake(true);
          held.addEventListener("release", () => setAwake(false));
        },
        () => setAwake(false),
      );
    };
    ask();
    document.addEventListener("visibilitychange", ask);
    return () => {
      ended = true;
      document.removeEventListener("visibilitychange", ask);
      void lock?.release();
      setAwake(false);
    };
  }, [wanted]);
  return awake;
}
