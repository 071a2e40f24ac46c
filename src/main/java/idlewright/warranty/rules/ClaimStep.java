package idlewright.warranty.rules;

import java.util.Collection;

/** What can happen to a claim, in the order of a good one. */
public enum ClaimStep {
    /** The supplier has it. */
    SENT("sent"),
    /** The supplier said that it pays, and how much. */
    GRANTED("granted"),
    /** The supplier said no. */
    REFUSED("refused"),
    /** Money came. */
    PAID("paid"),
    /** The shop asks no more: the rest is its own loss. */
    DROPPED("written off");

    private final String words;

    ClaimStep(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }

    public boolean money() {
        return this == GRANTED || this == PAID;
    }

    /** Whether this may follow; a refusal may be answered by sending it again. */
    public boolean mayFollow(Collection<ClaimStep> before) {
        if (before.contains(DROPPED)) {
            return false;
        }
        return switch (this) {
            case SENT, DROPPED -> true;
            case GRANTED, REFUSED, PAID -> before.contains(SENT);
        };
    }
}
