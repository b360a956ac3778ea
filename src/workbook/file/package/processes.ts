/** Other processes of this machine. Node only. */

/** Whether a process of that number runs, whoever's it is. */
export function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (problem) {
    return (problem as NodeJS.ErrnoException).code === "EPERM";
  }
}
