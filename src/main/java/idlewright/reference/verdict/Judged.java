package idlewright.reference.verdict;

/** A judgement with the ground it stands on and the sentence a person reads. */
public record Judged(Verdict verdict, Ground ground, String words) {

    public static Judged practice(Verdict verdict, String words) {
        return new Judged(verdict, Ground.COMMON_PRACTICE, words);
    }

    public static Judged physics(Verdict verdict, String words) {
        return new Judged(verdict, Ground.PHYSICS, words);
    }

    /** The rule does not hold here, for this reason. */
    public static Judged not(Ground ground, String reason) {
        return new Judged(Verdict.NOT_JUDGED, ground, reason);
    }

    public boolean good() {
        return verdict == Verdict.WITHIN;
    }
}
