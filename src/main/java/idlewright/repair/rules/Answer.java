package idlewright.repair.rules;

/** What was seen at one check, and the words that belong to it. */
public record Answer(Seen seen, String words) {

    /** Yes, no, or the part has no such thing. */
    public enum Seen {
        YES("yes"),
        NO("no"),
        ABSENT("has none");

        private final String words;

        Seen(String words) {
            this.words = words;
        }

        public String words() {
            return words;
        }
    }

    public Answer {
        words = words.strip();
    }

    public static Answer yes() {
        return new Answer(Seen.YES, "");
    }

    public boolean is(Seen wanted) {
        return seen == wanted;
    }

    public String text() {
        return words.isEmpty() ? seen.words() : seen.words() + ": " + words;
    }
}
