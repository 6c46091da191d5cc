/** Something that the guest is made of is not on this computer and does not come: nothing was tried, and nothing failed. */
export class NotToBeHad extends Error {
  override readonly name = 'NotToBeHad';
}
