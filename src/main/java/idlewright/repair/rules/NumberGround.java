package idlewright.repair.rules;

/** Why a part with another number (or beside an old number nobody can read) is the right one. */
public sealed interface NumberGround {

    /** The maker or supplier says that the one number takes the place of the other. */
    record Supersession(String source) implements NumberGround {}

    /** Another part on purpose: why, and who of the owner's side agreed and how. */
    record Consent(String reason, String byWhom, String how) implements NumberGround {}

    /** As it stands on thread and paper. */
    default String words() {
        if (this instanceof Supersession supersession) {
            return "supersedes the old number, as %s says".formatted(supersession.source());
        }
        Consent consent = (Consent) this;
        return "another part on purpose: %s; %s agreed, %s"
                .formatted(consent.reason(), consent.byWhom(), consent.how());
    }
}
