package idlewright.insight.rules;

import java.util.List;
import java.util.Locale;
import java.util.function.Function;
import java.util.stream.Stream;

/** By what threads are sorted into groups; a thread may stand in several when several parts were fitted. */
public enum Sorting {
    KIND("By symptom", "Symptom", thread -> Stream.of(new Key(thread.kind(), thread.kindName()))),
    CAUSE(
            "By cause found",
            "Cause",
            thread -> Stream.of(
                    thread.cause() == null
                            ? thread.proved()
                                    ? new Key("unrecorded", "cause not recorded")
                                    : new Key("none", "cause not found")
                            : new Key(
                                    thread.cause(), thread.causeName() == null ? thread.cause() : thread.causeName()))),
    PART(
            "By part fitted",
            "Part",
            thread -> thread.parts().stream()
                    .map(part -> new Key(
                            plain(part.maker()) + " " + plain(part.number()),
                            part.what() + ", " + part.maker() + " " + part.number()))),
    SUPPLIER(
            "By supplier of the part",
            "Supplier",
            thread -> thread.parts().stream().map(part -> new Key(plain(part.supplier()), part.supplier()))),
    LOT(
            "By lot of the part",
            "Lot",
            thread -> thread.parts().stream()
                    .filter(part -> part.lot() != null)
                    .map(part -> new Key(
                            plain(part.number()) + " " + plain(String.valueOf(part.lot())),
                            part.what() + " " + part.number() + ", lot " + part.lot()))),
    TECHNICIAN(
            "By technician",
            "Technician",
            thread -> thread.technician() == null
                    ? Stream.empty()
                    : Stream.of(new Key(thread.technician(), thread.technician())));

    /** What a group is known by, and what it is called. */
    public record Key(String key, String name) {}

    private final String title;
    private final String name;
    private final Function<HandedThread, Stream<Key>> keys;

    Sorting(String title, String name, Function<HandedThread, Stream<Key>> keys) {
        this.title = title;
        this.name = name;
        this.keys = keys;
    }

    public String title() {
        return title;
    }

    /** What the groups are, for the head of a column. */
    public String heading() {
        return name;
    }

    /** The word in addresses. */
    public String word() {
        return name().toLowerCase(Locale.ROOT);
    }

    /** The groups a thread stands in, each once. */
    public List<Key> of(HandedThread thread) {
        return keys
                .apply(thread)
                .collect(java.util.stream.Collectors.toMap(
                        Key::key, key -> key, (a, b) -> a, java.util.LinkedHashMap::new))
                .values()
                .stream()
                .toList();
    }

    public boolean holds(HandedThread thread, String key) {
        return of(thread).stream().anyMatch(one -> one.key().equals(key));
    }

    /** Printed numbers and names differ in case, blanks and dashes; the part is the same. */
    private static String plain(String printed) {
        return printed.toUpperCase(Locale.ROOT).replaceAll("[^\\p{L}\\p{N}]+", "");
    }
}
