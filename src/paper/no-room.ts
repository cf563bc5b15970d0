/** The paper has no room for what a verb was asked to do. The user's amount is at fault, not the program. */
export class NoRoom extends Error {
  override readonly name = 'NoRoom';
}
