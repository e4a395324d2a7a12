const KEY = "mangerline.first_round";
export const CARDS = 4;

/** The first round shown on this phone: 0 is the offer, 1 to 4 its cards, -1 over and not shown again by itself. */
class FirstRound {
  card = $state(localStorage.getItem(KEY) ? -1 : 0);

  next(): void {
    if (this.card < CARDS) this.card += 1;
    else this.stop();
  }
  stop(): void {
    this.card = -1;
    localStorage.setItem(KEY, "seen");
  }
  again(): void {
    this.card = 1;
  }
}

export const first_round = new FirstRound();
