import { useEffect, useState } from "react";

/** The time, looked at once a second while something is going, and whenever the page comes back into sight. */
export function useNow(going: boolean): number {
  const [now, setNow] = useState(Date.now);
  useEffect(() => {
    const look = () => setNow(Date.now());
    look();
    document.addEventListener("visibilitychange", look);
    const every = going ? setInterval(look, 1000) : undefined;
    return () => {
      document.removeEventListener("visibilitychange", look);
      clearInterval(every);
    };
  }, [going]);
  return now;
}
