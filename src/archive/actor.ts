/** Somebody of a party, as whoever let them in knows them. */
export interface Actor {
  readonly personId: string;
  readonly partyId: string;
}
