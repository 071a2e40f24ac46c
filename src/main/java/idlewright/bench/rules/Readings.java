package idlewright.bench.rules;

import idlewright.reference.units.Unit;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;

/** What was read in one test, as typed; of two readings at one place of one point the later counts. */
public final class Readings {
    sealed interface Raw {
        String point();

        int place();
    }

    record NumberRead(String point, int place, double value, Unit unit, Accuracy accuracy) implements Raw {}

    record Seen(String point, int place, Set<String> what) implements Raw {
        Seen {
            what = Set.copyOf(what);
        }
    }

    private final List<Raw> raw;

    private Readings(List<Raw> raw) {
        this.raw = List.copyOf(raw);
    }

    public static Readings none() {
        return new Readings(List.of());
    }

    /** A number read once. */
    public Readings number(String point, double value, Unit unit, Accuracy accuracy) {
        return number(point, 0, value, unit, accuracy);
    }

    /** A number read at one bank or cylinder, counted from 1. */
    public Readings number(String point, int place, double value, Unit unit, Accuracy accuracy) {
        return with(new NumberRead(point, place, value, unit, accuracy));
    }

    /** What was seen, by the key of the choice. */
    public Readings choice(String point, String choice) {
        return choice(point, 0, choice);
    }

    public Readings choice(String point, int place, String choice) {
        return with(new Seen(point, place, Set.of(choice)));
    }

    /** What a recorded series showed; empty for smooth. */
    public Readings series(String point, Set<SeriesMark> marks) {
        return with(new Seen(point, 0, Set.copyOf(marks.stream().map(Rule::word).toList())));
    }

    /** Trouble codes read; empty for none stored. */
    public Readings codes(String point, Set<String> codes) {
        return with(new Seen(point, 0, codes));
    }

    private Readings with(Raw one) {
        var all = new ArrayList<Raw>();
        for (Raw each : raw) {
            if (!each.point().equals(one.point()) || each.place() != one.place()) all.add(each);
        }
        all.add(one);
        return new Readings(all);
    }

    /** As if every number had been typed with one digit more, where the instrument may have it. */
    Readings finer() {
        return new Readings(raw.stream()
                .map(each -> each instanceof NumberRead read
                        ? new NumberRead(
                                read.point(),
                                read.place(),
                                read.value(),
                                read.unit(),
                                read.accuracy().finer())
                        : each)
                .toList());
    }

    List<Raw> at(String point) {
        return raw.stream()
                .filter(each -> each.point().equals(point))
                .sorted(java.util.Comparator.comparingInt(Raw::place))
                .toList();
    }

    Set<String> points() {
        return Set.copyOf(raw.stream().map(Raw::point).toList());
    }
}
