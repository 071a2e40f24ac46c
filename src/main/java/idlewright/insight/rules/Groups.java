package idlewright.insight.rules;

import idlewright.reference.stats.Holm;
import idlewright.reference.stats.Proportion;
import idlewright.reference.stats.TwoShares;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Stream;

/**
 * Threads sorted into groups: those with the most comebacks first.
 *
 * @param said what stands out from the rest by more than chance, in a sentence
 */
public record Groups(Sorting by, List<Group> groups, String said) {

    /** One group. */
    public record Group(String key, String name, List<HandedThread> threads) {

        public int whole() {
            return threads.size();
        }

        public int returned() {
            return (int) threads.stream().filter(HandedThread::cameBack).count();
        }

        public Proportion share() {
            return Proportion.of(returned(), whole());
        }
    }

    /** Sorts; a group in which everything held is told too, else the share of those that came back could not be seen. */
    public static Groups of(Sorting by, List<HandedThread> threads) {
        Map<String, List<HandedThread>> sorted = new LinkedHashMap<>();
        Map<String, String> names = new LinkedHashMap<>();
        for (HandedThread thread : threads) {
            for (Sorting.Key key : by.of(thread)) {
                sorted.computeIfAbsent(key.key(), k -> new ArrayList<>()).add(thread);
                names.putIfAbsent(key.key(), key.name());
            }
        }
        var groups = sorted.entrySet().stream()
                .map(entry -> new Group(entry.getKey(), names.get(entry.getKey()), List.copyOf(entry.getValue())))
                .sorted(Comparator.comparingInt(Group::returned)
                        .reversed()
                        .thenComparing(Comparator.comparingInt(Group::whole).reversed())
                        .thenComparing(Group::name))
                .toList();
        // What was fitted once can neither stand out nor hide among others: it would only blunt the comparison.
        var compared = groups.stream()
                .filter(group -> by != Sorting.LOT || group.whole() > 1)
                .toList();
        return new Groups(
                by,
                groups,
                compared.size() < 2 && compared.size() < groups.size()
                        ? "Hardly a lot was fitted more than once: there is nothing to compare yet."
                        : said(compared, among(by, threads)));
    }

    /** The threads that have a group at all: without a part there is nothing to compare a part with. */
    private static List<HandedThread> among(Sorting by, List<HandedThread> threads) {
        return threads.stream().filter(thread -> !by.of(thread).isEmpty()).toList();
    }

    private static String said(List<Group> groups, List<HandedThread> among) {
        if (groups.size() < 2) {
            return "";
        }
        int events = (int) among.stream().filter(HandedThread::cameBack).count();
        if (events == 0) {
            return "None of them came back.";
        }
        double[] p = new double[groups.size()];
        for (int i = 0; i < p.length; i++) {
            p[i] = againstTheRest(groups.get(i), among.size(), events);
        }
        double[] adjusted = Holm.adjust(p);
        var more = new ArrayList<String>();
        var fewer = new ArrayList<String>();
        for (int i = 0; i < p.length; i++) {
            if (adjusted[i] < 0.05) {
                Group group = groups.get(i);
                (group.share().estimate() > (double) events / among.size() ? more : fewer).add(group.name());
            }
        }
        if (more.isEmpty() && fewer.isEmpty()) {
            return "None stands out from the rest by more than chance, looking at %d at once.".formatted(groups.size());
        }
        return (more.isEmpty() ? "" : "More comebacks than the rest: %s. ".formatted(String.join("; ", more)))
                + (fewer.isEmpty() ? "" : "Fewer than the rest: %s. ".formatted(String.join("; ", fewer)))
                + "That is more than chance, also when looking at %d at once.".formatted(groups.size());
    }

    private static double againstTheRest(Group group, int all, int events) {
        int rest = all - group.whole();
        if (rest == 0) {
            return 1;
        }
        return TwoShares.compare(group.share(), Proportion.of(events - group.returned(), rest))
                .pTwoSided();
    }

    public Stream<Group> with(String key) {
        return groups.stream().filter(group -> group.key().equals(key));
    }

    /** What small numbers may say, in plain words; empty when there are enough. */
    public static String small(int events, int whole) {
        if (whole == 0) {
            return "";
        }
        if (whole < 20 || events < 3) {
            var share = Proportion.of(events, whole);
            return String.format(
                    Locale.ROOT,
                    "These are few: %d of %d fits any true rate between %.0f and %.0f in a hundred. Look at each case before the rate.",
                    events,
                    whole,
                    100 * share.wilsonLow(),
                    100 * share.wilsonHigh());
        }
        return "";
    }
}
