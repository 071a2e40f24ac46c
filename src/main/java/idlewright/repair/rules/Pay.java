package idlewright.repair.rules;

import idlewright.reference.money.Money;

/** How a part or work is charged. */
public sealed interface Pay {

    /** As an agreed line of the ticket's latest estimate says. */
    record ByEstimate(long estimateLineId) implements Pay {}

    /** By hand, as the shop's prices are, before tax or with it: the part's price, or an hour's. */
    record ByHand(Money each) implements Pay {}

    /** Not at all, and why: warranty, goodwill, a comeback. */
    record Free(String because) implements Pay {}
}
