package idlewright.bench.rules;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * The causes of one symptom, likeliest first. Causes are ranked, never declared: the finding is a technician's.
 *
 * @param causes every cause the vehicle can have; their probabilities add up to one
 * @param remarks what a reader must know before leaning on the order
 */
public record Ranking(String symptomKind, List<RankedCause> causes, Confidence confidence, List<String> remarks) {

    /** How far the order can be leaned on. */
    public enum Confidence {
        LOW("weak: do not buy a part on this"),
        FAIR("fair: one more test should settle it"),
        GOOD("good: the evidence agrees");

        private final String words;

        Confidence(String words) {
            this.words = words;
        }

        public String words() {
            return words;
        }
    }

    /** One thing for or against a cause, strongest first in its list. */
    public record EvidenceLine(Evidence evidence, Speaks speaks, double factor, String seen) {

        /** "Fuel trims: lean, and leaner with load: speaks strongly for". */
        public String words() {
            return seen + ": " + speaks.words();
        }
    }

    /**
     * A cause in its rank.
     *
     * @param judged how common it is for this symptom, as judgement of the trade
     * @param provedHere in how many proved threads of this shop it was the finding
     */
    public record RankedCause(
            Cause cause,
            double probability,
            Commonness judged,
            int provedHere,
            List<EvidenceLine> speakingFor,
            List<EvidenceLine> speakingAgainst) {

        public RankedCause {
            speakingFor = List.copyOf(speakingFor);
            speakingAgainst = List.copyOf(speakingAgainst);
        }

        /** What speaks for it in more than a slight way. */
        public List<EvidenceLine> plainlyFor() {
            return plain(speakingFor);
        }

        /** What speaks against it in more than a slight way. */
        public List<EvidenceLine> plainlyAgainst() {
            return plain(speakingAgainst);
        }

        /** What moves it a little, the usual that was seen mostly, in one sentence by direction; empty where nothing does. */
        public List<String> slightly() {
            return Stream.of(slight(speakingFor, "slightly for: "), slight(speakingAgainst, "slightly against: "))
                    .flatMap(Optional::stream)
                    .toList();
        }

        private static List<EvidenceLine> plain(List<EvidenceLine> lines) {
            return lines.stream().filter(line -> !line.speaks().isSlight()).toList();
        }

        private static Optional<String> slight(List<EvidenceLine> lines, String direction) {
            List<String> slight = lines.stream()
                    .filter(line -> line.speaks().isSlight())
                    .map(EvidenceLine::seen)
                    .toList();
            return slight.isEmpty() ? Optional.empty() : Optional.of(direction + String.join("; ", slight));
        }

        /** "common for this symptom, as judgement; from 3 proved cases here". */
        public String basis() {
            String judgement = cause.isSomethingElse()
                    ? "always kept"
                    : judged == Commonness.UNUSUAL
                            ? judged.words() + " (judgement)"
                            : judged.words() + " for this symptom (judgement)";
            return provedHere == 0
                    ? judgement
                    : judgement + "; from " + provedHere
                            + (provedHere == 1 ? " proved case here" : " proved cases here");
        }

        /** "62 %", "under 1 %". */
        public String share() {
            return Figures.percent(probability);
        }
    }

    public Ranking {
        causes = List.copyOf(causes);
        remarks = List.copyOf(remarks);
    }

    /** The share of all that stand under 1 %, in words: "4 %". */
    public String under() {
        return Figures.percent(causes.stream()
                .mapToDouble(RankedCause::probability)
                .filter(share -> share < 0.01)
                .sum());
    }

    public Optional<RankedCause> cause(String key) {
        return causes.stream().filter(each -> each.cause().key().equals(key)).findFirst();
    }

    public RankedCause likeliest() {
        return causes.get(0);
    }
}
