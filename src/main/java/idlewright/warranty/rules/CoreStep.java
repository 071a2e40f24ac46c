package idlewright.warranty.rules;

import java.util.Collection;

/** What can happen to an old part that goes back for its core charge. */
public enum CoreStep {
    /** The supplier charged for the core; a later amount takes the place of an earlier. */
    CHARGED("core charge paid"),
    /** The old part went back. */
    RETURNED("went back"),
    /** The supplier gave money for it. */
    CREDITED("credited"),
    /** The shop expects no more. */
    WRITTEN_OFF("written off");

    private final String words;

    CoreStep(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }

    public boolean money() {
        return this == CHARGED || this == CREDITED;
    }

    public boolean mayFollow(Collection<CoreStep> before) {
        if (before.contains(WRITTEN_OFF)) {
            return false;
        }
        return switch (this) {
            case CHARGED -> !before.contains(CREDITED);
            case RETURNED -> !before.contains(RETURNED);
            case CREDITED -> before.contains(CHARGED);
            case WRITTEN_OFF -> before.contains(CHARGED);
        };
    }
}
