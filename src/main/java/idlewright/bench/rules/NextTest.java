package idlewright.bench.rules;

import idlewright.bench.rules.Ranking.RankedCause;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;

/**
 * Which test to take next: the one that tells most per minute about what is still open, among those whose
 * circumstances and instruments are at hand. Quick basic checks come before the part they clear is blamed.
 */
public record NextTest(Catalogue catalogue) {
    /** These come first whatever they tell: without them the rest hangs in the air. */
    private static final List<String> FIRST = List.of("reproduce", "codes", "visual");

    /** How different two causes must make the outcome for the test to count as telling them apart. */
    static final double APART = 0.45;

    /** From here on it at least leans towards one of the two. */
    private static final double LEANS = 0.2;

    /** Causes under this share are not named in a reason, nor more than so many of those above it. */
    static final double NAMED = 0.02;

    static final int MOST_NAMED = 12;

    /** Shares of the two multiplied with how far they are told apart: under this a pair is not worth a reason. */
    private static final double WORTH_NAMING = 0.01;

    /** From this share on a part is likelier than all else, and the basic checks before it come first. */
    static final double SUSPECTED = 0.5;

    /** From this share on the basic checks before a part stand among the first that are shown. */
    static final double NOTICED = 0.1;

    static final int SHOWN = 3;

    /** A car that must stand overnight is not there for other work: so many minutes of it are counted (judgement). */
    private static final int A_NIGHT_COSTS = 15;

    /** The complaint for which the car stands overnight anyway. */
    private static final String COLD_ANYWAY = "hard-start-cold";

    private static final String FEED_FIRST = "the sensor's supply to be mended, else it tells nothing";

    /** Names at most so many causes in one sentence. */
    private static final int NAMES = 3;

    /** What the shop can do now. */
    public record AtHand(Set<InstrumentKind> instruments, Set<Need> circumstances) {
        public AtHand {
            instruments = Set.copyOf(instruments);
            circumstances = Set.copyOf(circumstances);
        }

        /** A shop with everything and a car that does everything. */
        public static AtHand everything() {
            return new AtHand(Set.of(InstrumentKind.values()), Set.of(Need.values()));
        }
    }

    /**
     * A test that could be taken now.
     *
     * @param bits expected information about the cause
     * @param bitsPerMinute what it tells for its time, or what the test it opens tells for the time of both
     * @param byRule true for those that come first by rule
     * @param tells whether it tells something new about the causes in front
     * @param reason one sentence for the technician
     */
    public record Suggestion(
            Procedure procedure, double bits, double bitsPerMinute, boolean byRule, boolean tells, String reason) {}

    private record Reason(String words, boolean tells) {
        static Reason telling(String words) {
            return new Reason(words, true);
        }
    }

    /** A test looked at, before it is known whether it can be taken. */
    private record Candidate(
            Procedure procedure,
            Telling telling,
            double bits,
            int minutes,
            String lacking,
            List<Procedure> first,
            @Nullable Procedure seenBefore) {
        boolean ready() {
            return lacking.isEmpty() && first.isEmpty();
        }

        boolean waitsOnlyForTests() {
            return lacking.isEmpty() && !first.isEmpty();
        }

        double bitsPerMinute() {
            return bits / minutes;
        }

        boolean waitsForTheNight() {
            return minutes > procedure.minutes();
        }

        String lackingWords() {
            List<String> words = new ArrayList<>();
            if (!lacking.isEmpty()) words.add(lacking);
            first.forEach(each -> words.add("first: " + each.name().toLowerCase(Locale.ROOT)));
            return String.join("; ", words);
        }
    }

    /** A test that would make sense but cannot be taken now, and what it waits for. */
    public record Waiting(Procedure procedure, double bits, String lacking) {}

    /**
     * The tests in the order to take them, and those that wait.
     *
     * @param enough why it is time to decide rather than to test; empty while a test is worth its time
     */
    public record Plan(List<Suggestion> ready, List<Waiting> waiting, String enough) {
        public Plan {
            ready = List.copyOf(ready);
            waiting = List.copyOf(waiting);
        }
    }

    /**
     * Plans the next tests.
     *
     * @param ranking the ranking by all evidence so far
     * @param evidence the same evidence, so that nothing is asked twice
     * @param done keys of procedures already taken on this thread
     */
    public Plan plan(
            Ranking ranking, Collection<Evidence> evidence, Set<String> done, AtHand atHand, VehicleFacts vehicle) {
        SymptomKind kind = catalogue.symptomKind(ranking.symptomKind()).orElseThrow();
        List<Candidate> candidates = catalogue.procedures().stream()
                .filter(procedure -> !done.contains(procedure.key())
                        && procedure.moment() == Procedure.Moment.SEEKING
                        && vehicle.mayHave(procedure.appliesTo()))
                .map(procedure -> candidate(procedure, ranking, evidence, kind, done, atHand, vehicle))
                .toList();
        Map<String, Double> blame = blame(candidates, ranking);
        List<Suggestion> ready = amongTheFirst(
                candidates.stream()
                        .filter(Candidate::ready)
                        .map(each -> suggestion(each, candidates, blame, ranking))
                        .sorted(Comparator.comparingInt((Suggestion each) -> place(each, blame))
                                .thenComparing(each -> !each.byRule() && !each.tells())
                                .thenComparing(Comparator.comparingDouble(Suggestion::bitsPerMinute)
                                        .reversed())
                                .thenComparing(each -> each.procedure().key()))
                        .toList(),
                blame);
        List<Waiting> waiting = candidates.stream()
                .filter(each -> !each.ready())
                .sorted(Comparator.comparingDouble((Candidate each) -> -each.bitsPerMinute())
                        .thenComparing(each -> each.procedure().key()))
                .map(each -> new Waiting(each.procedure(), each.bits(), each.lackingWords()))
                .toList();
        return new Plan(ready, waiting, enough(ready, ranking));
    }

    private static String enough(List<Suggestion> ready, Ranking ranking) {
        if (ready.stream().anyMatch(Suggestion::byRule)) return "";
        if (ranking.confidence() == Ranking.Confidence.GOOD) {
            return "The evidence agrees on " + quoted(ranking.likeliest()) + " ("
                    + ranking.likeliest().share()
                    + "): decide the cause. What is left to test can confirm it or contradict it.";
        }
        return ready.stream().noneMatch(Suggestion::tells)
                ? "No test that can be taken now tells the likeliest causes further apart: repeat the test that spoke"
                        + " clearest, or take one that waits."
                : "";
    }

    private Candidate candidate(
            Procedure procedure,
            Ranking ranking,
            Collection<Evidence> evidence,
            SymptomKind kind,
            Set<String> done,
            AtHand atHand,
            VehicleFacts vehicle) {
        var causes = new Causes(catalogue);
        Set<String> spoken = causes.spoken(evidence);
        Set<String> blinding = causes.blinding(evidence);
        List<OutcomeGroup> open = procedure.groups().stream()
                .filter(group -> !group.silentFor().contains(ranking.symptomKind()))
                .filter(group -> group.toldBy().stream().noneMatch(spoken::contains))
                .toList();
        List<OutcomeGroup> fresh = open.stream()
                .filter(group -> seenBefore(procedure, group, spoken).isEmpty())
                .toList();
        Procedure again = fresh.size() == open.size()
                ? null
                : open.stream()
                        .flatMap(group -> seenBefore(procedure, group, spoken).stream())
                        .findFirst()
                        .orElseThrow();
        boolean blind = !open.isEmpty()
                && open.stream().allMatch(group -> group.reliesOn().stream().anyMatch(blinding::contains));
        List<Procedure> first = procedure.after().stream()
                .filter(each -> !done.contains(each))
                .map(each -> catalogue.procedure(each).orElseThrow())
                .filter(each -> vehicle.mayHave(each.appliesTo()))
                .toList();
        var telling = new Telling(ranking.causes(), fresh);
        // What only sees again another way can still contradict: worth half.
        double bits = (telling.bits() + new Telling(ranking.causes(), open).bits()) / 2;
        String lacking = lacking(procedure, kind, atHand);
        if (blind) lacking = lacking.isEmpty() ? FEED_FIRST : lacking + "; " + FEED_FIRST;
        boolean night =
                procedure.needs().contains(Need.COLD_SOAK) && !kind.key().equals(COLD_ANYWAY);
        int minutes = procedure.minutes() + (night ? A_NIGHT_COSTS : 0);
        return new Candidate(procedure, telling, blind ? 0 : bits, minutes, lacking, first, again);
    }

    /** The procedure that has seen the same thing as this group already. */
    private Optional<Procedure> seenBefore(Procedure procedure, OutcomeGroup group, Set<String> spoken) {
        return catalogue.procedures().stream()
                .filter(other -> !other.equals(procedure))
                .filter(other -> other.groups().stream().anyMatch(one -> {
                    String key = other.key() + "." + one.key();
                    return spoken.contains(key)
                            && (group.sameAs().contains(key)
                                    || one.sameAs().contains(procedure.key() + "." + group.key()));
                }))
                .findFirst();
    }

    private static String lacking(Procedure procedure, SymptomKind kind, AtHand atHand) {
        var lacking = new ArrayList<String>();
        procedure.instruments().stream()
                .filter(each -> !atHand.instruments().contains(each))
                .forEach(each -> lacking.add(each.words()));
        procedure.needs().stream()
                .filter(each -> kind.excludes().contains(each)
                        || !atHand.circumstances().contains(each))
                .forEach(each -> lacking.add(each.words()));
        return String.join("; ", lacking);
    }

    /**
     * How strongly the parts are suspected that each basic check clears, by its key; what must come before such a check
     * comes with it.
     */
    private static Map<String, Double> blame(List<Candidate> candidates, Ranking ranking) {
        var blame = new HashMap<String, Double>();
        for (Candidate each : candidates) {
            double share = share(suspects(each.procedure(), ranking));
            if (share < NOTICED || !(each.ready() || each.waitsOnlyForTests())) continue;
            blame.merge(each.procedure().key(), share, Math::max);
            each.first().forEach(first -> blame.merge(first.key(), share, Math::max));
        }
        return blame;
    }

    /** The causes of the part most suspected among those the check comes before. */
    private static List<RankedCause> suspects(Procedure check, Ranking ranking) {
        return ranking.causes().stream()
                .filter(each -> each.cause().proveFirst().contains(check.key()))
                .collect(Collectors.groupingBy(each -> each.cause().part()))
                .values()
                .stream()
                .max(Comparator.comparingDouble(NextTest::share))
                .orElse(List.of());
    }

    /** Puts the basic check before the part most noticed no later than the last that is shown. */
    private static List<Suggestion> amongTheFirst(List<Suggestion> ready, Map<String, Double> blame) {
        var ordered = new ArrayList<>(ready);
        int byRule = (int) ready.stream()
                .filter(each -> FIRST.contains(each.procedure().key()))
                .count();
        ordered.stream()
                .skip(byRule)
                .filter(each -> blame.containsKey(each.procedure().key()))
                .max(Comparator.comparingDouble(
                        each -> blame.getOrDefault(each.procedure().key(), 0.0)))
                .filter(check -> ordered.indexOf(check) >= byRule + SHOWN)
                .ifPresent(check -> {
                    ordered.remove(check);
                    ordered.add(byRule + SHOWN - 1, check);
                });
        return ordered;
    }

    /** First by rule, then the basic checks before a suspected part, then all others. */
    private static int place(Suggestion suggestion, Map<String, Double> blame) {
        int first = FIRST.indexOf(suggestion.procedure().key());
        if (first >= 0) return first;
        return blame.getOrDefault(suggestion.procedure().key(), 0.0) >= SUSPECTED ? FIRST.size() : FIRST.size() + 1;
    }

    private static Suggestion suggestion(
            Candidate candidate, List<Candidate> candidates, Map<String, Double> blame, Ranking ranking) {
        Procedure procedure = candidate.procedure();
        double rate = candidate.bitsPerMinute();
        Candidate opened = null;
        for (Candidate each : candidates) {
            if (!each.waitsOnlyForTests() || !each.first().contains(procedure)) continue;
            int minutes = each.minutes()
                    + each.first().stream().mapToInt(Procedure::minutes).sum();
            double both = (each.bits() + candidate.bits()) / minutes;
            if (both > rate) {
                rate = both;
                opened = each;
            }
        }
        boolean byRule = FIRST.contains(procedure.key()) || blame.getOrDefault(procedure.key(), 0.0) >= SUSPECTED;
        Reason reason = reason(candidate, opened, candidates, blame, ranking);
        return new Suggestion(procedure, candidate.bits(), rate, byRule, reason.tells(), reason.words());
    }

    private static Reason reason(
            Candidate candidate,
            @Nullable Candidate opened,
            List<Candidate> candidates,
            Map<String, Double> blame,
            Ranking ranking) {
        Procedure procedure = candidate.procedure();
        String minutes = minutes(procedure.minutes())
                + (candidate.waitsForTheNight() ? ", once it has stood cold overnight" : "");
        switch (procedure.key()) {
            case "reproduce" -> {
                return Reason.telling("First by rule: a symptom nobody has seen cannot be shown to be cured.");
            }
            case "codes" -> {
                return Reason.telling(
                        "First by rule: codes and freeze frames are recorded before anything can clear them.");
            }
            case "visual" -> {
                return Reason.telling("First by rule: looking costs " + minutes + " and spares tests.");
            }
            default -> {}
        }
        if (blame.containsKey(procedure.key())) {
            List<RankedCause> own = suspects(procedure, ranking);
            if (!own.isEmpty() && share(own) >= NOTICED) {
                Reason told = told(candidate.telling(), ranking, "");
                return Reason.telling("A basic check of " + minutes + " before " + likeliest(own) + " is blamed."
                        + (told.tells() ? " " + told.words() : ""));
            }
            for (Candidate each : candidates) {
                if (each.first().contains(procedure)
                        && blame.containsKey(each.procedure().key())) {
                    return Reason.telling("A basic check of " + minutes + ", wanted before \""
                            + each.procedure().name() + "\", which comes before "
                            + likeliest(suspects(each.procedure(), ranking)) + " is blamed.");
                }
            }
        }
        if (candidate.seenBefore() != null
                && !told(candidate.telling(), ranking, "").tells()) {
            return new Reason(
                    "Sees again, another way, what \"" + candidate.seenBefore().name() + "\" has seen; " + minutes
                            + ".",
                    false);
        }
        if (opened != null) {
            return Reason.telling("Wanted before \"" + opened.procedure().name() + "\" ("
                    + procedure.minutes() + " and " + minutes(opened.procedure().minutes()) + "). That one: "
                    + told(opened.telling(), ranking, "").words());
        }
        return told(candidate.telling(), ranking, minutes);
    }

    private static double share(List<RankedCause> causes) {
        return causes.stream().mapToDouble(RankedCause::probability).sum();
    }

    private static String likeliest(List<RankedCause> causes) {
        return causes.stream()
                .max(Comparator.comparingDouble(RankedCause::probability))
                .map(each -> quoted(each) + " (" + each.share() + ")")
                .orElseThrow();
    }

    /**
     * What the test tells about the causes in front, from the pairs it parts: the cause that it parts best from the
     * others, and those others by name.
     *
     * @param minutes "6 minutes", or empty where the time is said already
     */
    private static Reason told(Telling telling, Ranking ranking, String minutes) {
        List<Integer> named = named(ranking);
        Parted parted = Parted.best(telling, ranking, named, APART);
        String time = minutes.isEmpty() ? "." : ", in " + minutes + ".";
        if (parted != null) {
            boolean two = named.size() > 1
                    && parted.from().size() == 1
                    && List.of(named.get(0), named.get(1))
                            .containsAll(List.of(parted.one(), parted.from().get(0)));
            return Reason.telling("Tells " + quoted(ranking, parted.one()) + " from " + names(ranking, parted.from())
                    + (two ? ", the two likeliest causes" : "") + time);
        }
        Parted leaning = Parted.best(telling, ranking, named, LEANS);
        String end = minutes.isEmpty() ? "." : "; " + minutes + ".";
        return leaning == null
                ? new Reason("Tells little about what is open now" + end, false)
                : Reason.telling("Weighs " + quoted(ranking, leaning.one()) + " against "
                        + names(ranking, leaning.from()) + " without settling it" + end);
    }

    /** Places in the ranking of the causes a reason may name. */
    private static List<Integer> named(Ranking ranking) {
        return IntStream.range(0, ranking.causes().size())
                .filter(at -> !ranking.causes().get(at).cause().isSomethingElse())
                .filter(at -> ranking.causes().get(at).probability() >= NAMED)
                .limit(MOST_NAMED)
                .boxed()
                .toList();
    }

    /** A cause and those the test parts it from, likeliest first, all by their place in the ranking. */
    private record Parted(int one, List<Integer> from) {

        /** The cause whose parting from the others is worth most now; null where no pair is that far apart. */
        static @Nullable Parted best(Telling telling, Ranking ranking, List<Integer> named, double apart) {
            Parted best = null;
            double most = 0;
            for (int one : named) {
                List<Integer> from = named.stream()
                        .filter(other -> other != one && telling.apart(one, other) >= apart)
                        .toList();
                double worth = from.stream()
                        .mapToDouble(other -> ranking.causes().get(one).probability()
                                * ranking.causes().get(other).probability()
                                * telling.apart(one, other))
                        .sum();
                if (worth > most && worth >= WORTH_NAMING) {
                    most = worth;
                    best = new Parted(one, from);
                }
            }
            return best;
        }
    }

    private static String names(Ranking ranking, List<Integer> places) {
        List<String> names =
                places.stream().limit(NAMES).map(at -> quoted(ranking, at)).toList();
        String last = names.get(names.size() - 1);
        return names.size() == 1
                ? last
                : String.join(", ", names.subList(0, names.size() - 1))
                        + (places.size() > NAMES ? ", " + last + " and others" : " and " + last);
    }

    private static String minutes(int minutes) {
        return minutes + (minutes == 1 ? " minute" : " minutes");
    }

    private static String quoted(Ranking ranking, int place) {
        return quoted(ranking.causes().get(place));
    }

    private static String quoted(RankedCause cause) {
        return "\"" + cause.cause().name() + "\"";
    }
}
