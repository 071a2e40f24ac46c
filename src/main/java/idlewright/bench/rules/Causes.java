package idlewright.bench.rules;

import idlewright.bench.rules.Catalogue.Place;
import idlewright.bench.rules.Ranking.Confidence;
import idlewright.bench.rules.Ranking.EvidenceLine;
import idlewright.bench.rules.Ranking.RankedCause;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

/**
 * Ranks the causes of a symptom: naive Bayes in log space over the catalogue, with a residual "something else" for
 * which every outcome is as likely as usual. All weights are judgement, save what the shop has proved itself.
 */
public record Causes(Catalogue catalogue) {
    /** The share kept for what nobody has thought of. */
    private static final double SHARE_OF_SOMETHING_ELSE = 0.06;

    /** From here on a line counts as a clear word for or against. */
    private static final double CLEAR = 2.5;

    /** Under this share nobody minds that the evidence about a cause disagrees. */
    private static final double WORTH_A_WORD = 0.05;

    /** From this share on a remark names the basic check that is still to come before a part is bought. */
    private static final double SUSPECT = 0.2;

    /**
     * Evidence that counts, with where it stands in the catalogue.
     *
     * @param alike what saw the same thing another way
     * @param blinded causes it cannot be believed to speak for
     */
    private record Placed(Evidence evidence, Place place, List<Placed> alike, Set<String> blinded) {
        /** How many times likelier it is with the cause, after what is only said again is taken out. */
        double factor(Cause cause) {
            double own = alone(cause);
            boolean saidAgain = alike.stream().anyMatch(other -> outweighs(other, own, other.alone(cause)));
            return saidAgain ? 1 : own;
        }

        /** Of two that point the same way the stronger word counts; of two alike, the one that is told again is silent. */
        private boolean outweighs(Placed other, double own, double others) {
            if (own == 1 || others == 1 || own > 1 != others > 1) return false;
            double difference = Math.abs(Math.log(others)) - Math.abs(Math.log(own));
            return Math.abs(difference) < 1e-9
                    ? place.group().sameAs().contains(other.place().groupKey())
                    : difference > 0;
        }

        private double alone(Cause cause) {
            double factor = place.group().factor(place.outcome(), cause.key());
            return blinded.contains(cause.key()) ? Math.min(1, factor) : factor;
        }

        boolean isAsked() {
            return place.procedure().equals(Evidence.ASKED);
        }

        String words() {
            return place.procedureName() + ": " + place.outcome().words();
        }
    }

    /**
     * Ranks all causes the vehicle can have. The order of the evidence does not matter; of repeats in one group of one
     * procedure the latest counts.
     *
     * @throws Refusal if the symptom kind is not in the catalogue
     */
    public Ranking rank(String symptomKind, Collection<Evidence> evidence, Learned learned, VehicleFacts vehicle) {
        if (catalogue.symptomKind(symptomKind).isEmpty()) {
            throw new Refusal("There is no symptom kind '" + symptomKind + "'.");
        }
        List<Placed> counted = counted(symptomKind, evidence);
        List<Cause> possible = catalogue.causes().stream()
                .filter(cause -> vehicle.mayHave(cause.needs()))
                .toList();
        double[] prior = prior(symptomKind, possible, learned);

        double[] logs = IntStream.range(0, prior.length)
                .mapToDouble(at -> Math.log(prior[at])
                        + counted.stream()
                                .mapToDouble(each -> Math.log(each.factor(possible.get(at))))
                                .sum())
                .toArray();
        double most = Arrays.stream(logs).max().orElseThrow();
        double sum = Arrays.stream(logs).map(log -> Math.exp(log - most)).sum();

        List<RankedCause> ranked = IntStream.range(0, logs.length)
                .mapToObj(
                        at -> ranked(possible.get(at), Math.exp(logs[at] - most) / sum, symptomKind, counted, learned))
                .sorted(Comparator.comparingDouble(RankedCause::probability)
                        .reversed()
                        .thenComparing(each -> each.cause().key()))
                .toList();
        List<String> contradictions = contradictions(ranked, counted);
        return new Ranking(
                symptomKind,
                ranked,
                confidence(ranked, counted, contradictions),
                remarks(ranked, counted, contradictions, evidence));
    }

    private static RankedCause ranked(
            Cause cause, double probability, String symptomKind, List<Placed> counted, Learned learned) {
        return new RankedCause(
                cause,
                probability,
                cause.commonnessFor(symptomKind),
                learned.proved(cause.key()),
                lines(cause, counted, true),
                lines(cause, counted, false));
    }

    /** Probability of each cause before any test: judgement, and what was proved here as further cases. */
    private static double[] prior(String symptomKind, List<Cause> possible, Learned learned) {
        double weights = possible.stream()
                .filter(cause -> !cause.isSomethingElse())
                .mapToDouble(cause -> cause.commonnessFor(symptomKind).weight())
                .sum();
        double cases =
                possible.stream().mapToInt(cause -> learned.proved(cause.key())).sum();
        return possible.stream()
                .mapToDouble(cause -> {
                    double judged = cause.isSomethingElse()
                            ? SHARE_OF_SOMETHING_ELSE
                            : (1 - SHARE_OF_SOMETHING_ELSE)
                                    * cause.commonnessFor(symptomKind).weight()
                                    / weights;
                    return (Learned.JUDGEMENT_IS_WORTH * judged + learned.proved(cause.key()))
                            / (Learned.JUDGEMENT_IS_WORTH + cases);
                })
                .toArray();
    }

    private List<Placed> counted(String symptomKind, Collection<Evidence> evidence) {
        var latest = new TreeMap<String, Placed>();
        Comparator<Placed> byAge = Comparator.comparing(
                        (Placed each) -> each.evidence().taken())
                .thenComparing(each -> each.evidence().outcome());
        for (Evidence each : evidence) {
            catalogue
                    .placeOf(each)
                    .ifPresent(place -> latest.merge(
                            place.groupKey(),
                            new Placed(each, place, List.of(), Set.of()),
                            (a, b) -> byAge.compare(a, b) >= 0 ? a : b));
        }
        Set<String> spoke = Set.copyOf(latest.keySet());
        return related(latest.values().stream()
                .filter(each -> !each.place().group().silentFor().contains(symptomKind))
                .filter(each -> each.place().group().toldBy().stream().noneMatch(spoke::contains))
                .toList());
    }

    /** Each with what saw the same thing, and with the causes that something it relies on has blinded it for. */
    private static List<Placed> related(List<Placed> counted) {
        return counted.stream()
                .map(each -> new Placed(
                        each.evidence(),
                        each.place(),
                        counted.stream()
                                .filter(other -> sameAs(each, other) || sameAs(other, each))
                                .map(other ->
                                        new Placed(other.evidence(), other.place(), List.of(), blinded(other, counted)))
                                .toList(),
                        blinded(each, counted)))
                .toList();
    }

    private static boolean sameAs(Placed one, Placed other) {
        return one.place().group().sameAs().contains(other.place().groupKey());
    }

    private static Set<String> blinded(Placed one, List<Placed> counted) {
        return counted.stream()
                .filter(other ->
                        one.place().group().reliesOn().contains(other.place().groupKey()))
                .flatMap(other -> other.place().outcome().blinds().stream())
                .collect(Collectors.toSet());
    }

    private static List<EvidenceLine> lines(Cause cause, List<Placed> counted, boolean speakingFor) {
        if (cause.isSomethingElse()) return List.of();
        return counted.stream()
                .map(each -> {
                    double factor = each.factor(cause);
                    Speaks speaks = Speaks.ofFactor(factor);
                    return new EvidenceLine(each.evidence(), speaks, factor, each.words());
                })
                .filter(line ->
                        speakingFor ? line.speaks().isFor() : line.speaks().isAgainst())
                .sorted(Comparator.comparingDouble((EvidenceLine line) -> -Math.abs(Math.log(line.factor())))
                        .thenComparing(EvidenceLine::words))
                .toList();
    }

    /** One clear word for and one clear word against the same cause, among the causes in front. */
    private static List<String> contradictions(List<RankedCause> ranked, List<Placed> counted) {
        var said = new ArrayList<String>();
        for (RankedCause each : ranked.subList(0, Math.min(3, ranked.size()))) {
            if (each.cause().isSomethingElse() || each.probability() < WORTH_A_WORD) continue;
            Placed best = null;
            Placed worst = null;
            for (Placed one : counted) {
                double factor = one.factor(each.cause());
                if (factor >= CLEAR && (best == null || factor > best.factor(each.cause()))) best = one;
                if (factor <= 1 / CLEAR && (worst == null || factor < worst.factor(each.cause()))) worst = one;
            }
            if (best != null && worst != null) {
                said.add("The evidence disagrees about \"" + each.cause().name() + "\": \"" + best.words()
                        + "\" speaks for it, \"" + worst.words()
                        + "\" against it. Repeat one of them under noted conditions before a part is bought.");
            }
        }
        return said;
    }

    private static Confidence confidence(List<RankedCause> ranked, List<Placed> counted, List<String> contradictions) {
        long measured = counted.stream().filter(each -> !each.isAsked()).count();
        RankedCause first = ranked.get(0);
        if (measured == 0 || first.cause().isSomethingElse() || first.probability() < 0.4) return Confidence.LOW;
        if (!contradictions.isEmpty()) return first.probability() < 0.75 ? Confidence.LOW : Confidence.FAIR;
        Set<String> taken =
                counted.stream().map(each -> each.place().procedure()).collect(Collectors.toSet());
        boolean basics = taken.containsAll(first.cause().proveFirst());
        return measured >= 2 && first.probability() >= 0.75 && basics ? Confidence.GOOD : Confidence.FAIR;
    }

    private List<String> remarks(
            List<RankedCause> ranked,
            List<Placed> counted,
            List<String> contradictions,
            Collection<Evidence> evidence) {
        var remarks = new ArrayList<String>();
        Set<String> procedures =
                counted.stream().map(each -> each.place().procedure()).collect(Collectors.toSet());
        if (procedures.isEmpty() || procedures.equals(Set.of(Evidence.ASKED))) {
            remarks.add(
                    procedures.isEmpty()
                            ? "Nothing is tested yet: this order is only how common each cause is for this symptom, as judgement."
                            : "Nothing is tested yet: this order rests on judgement and on the customer's answers.");
        } else {
            if (!procedures.contains("reproduce")) {
                remarks.add("The symptom has not been reproduced: nobody has yet seen what a repair must end.");
            }
            if (!procedures.contains("codes")) {
                remarks.add(
                        "Codes and freeze frames have not been read: they are lost as soon as someone clears them.");
            }
        }
        remarks.addAll(contradictions);
        blind(counted).ifPresent(remarks::add);
        RankedCause first = ranked.get(0);
        if (!first.cause().isSomethingElse() && first.probability() >= SUSPECT) {
            first.cause().proveFirst().stream()
                    .filter(each -> !procedures.contains(each))
                    .flatMap(each -> catalogue.procedure(each).stream())
                    .map(each -> "Before \"" + first.cause().name() + "\" is acted on, take \"" + each.name() + "\" ("
                            + each.minutes() + " minutes).")
                    .forEach(remarks::add);
        }
        if (first.cause().isSomethingElse() && first.probability() < SUSPECT) {
            remarks.add("No cause stands out yet.");
        } else if (first.cause().isSomethingElse()) {
            remarks.add("What was found fits none of the known causes well: think of something else, or repeat the test"
                    + " that fits least.");
        } else if (ranked.size() > 1 && !procedures.isEmpty()) {
            RankedCause second = ranked.get(1);
            if (!second.cause().isSomethingElse() && first.probability() < 1.5 * second.probability()) {
                remarks.add("\"" + first.cause().name() + "\" and \""
                        + second.cause().name() + "\" cannot be told apart yet.");
            }
        }
        long unknown = evidence.stream()
                .filter(each -> catalogue.placeOf(each).isEmpty())
                .count();
        if (unknown > 0) {
            remarks.add(unknown + (unknown == 1 ? " result" : " results")
                    + " of an older version of a procedure could not be counted.");
        }
        int cases = ranked.stream().mapToInt(RankedCause::provedHere).sum();
        if (cases > 0) {
            remarks.add("The starting weights include " + cases
                    + (cases == 1 ? " case of this shop that was proved." : " cases of this shop that were proved."));
        }
        return remarks;
    }

    /** Says once that what hangs on a fault that was found cannot be blamed yet. */
    private static Optional<String> blind(List<Placed> counted) {
        return counted.stream()
                .filter(each -> !each.place().outcome().blinds().isEmpty())
                .map(Placed::words)
                .findFirst()
                .map(words ->
                        words + ". Until that is mended nothing the sensor reports speaks for the sensor itself.");
    }

    /** Of the evidence, the outcomes that keep others from being believed, by their group. */
    Set<String> blinding(Collection<Evidence> evidence) {
        return counted("", evidence).stream()
                .filter(each -> !each.place().outcome().blinds().isEmpty())
                .map(each -> each.place().groupKey())
                .collect(Collectors.toSet());
    }

    /** Evidence groups that have spoken, as "procedure.group". */
    Set<String> spoken(Collection<Evidence> evidence) {
        return evidence.stream()
                .flatMap(each -> catalogue.placeOf(each).stream())
                .map(Place::groupKey)
                .collect(Collectors.toSet());
    }
}
