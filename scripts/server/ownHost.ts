/** True for names of this machine. A page elsewhere must not reach the server through a name that it points here. */
export function ownHost(host: string | undefined): boolean {
  return /^(127\.0\.0\.1|localhost|\[::1\])(:\d+)?$/.test(host ?? "");
}
