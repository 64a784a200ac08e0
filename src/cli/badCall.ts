/** A call the terminal cannot follow: its sentence goes to stderr, exit 2. */
export class BadCall extends Error {}
