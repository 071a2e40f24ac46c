package idlewright.reference.codes;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;

/** What codes mean in our own words, and which causes and procedures they point to; read from {@code codes.txt}. */
public final class CodeBook {

    private static final String RESOURCE = "/reference/codes.txt";
    private static final SortedMap<TroubleCode, Entry> ENTRIES = read();

    private CodeBook() {}

    /**
     * One code explained.
     *
     * @param meaning in our own words; for a code outside the book, where to look instead
     * @param known whether the book has it
     * @param causes keys of causes it speaks for, the likeliest first
     * @param procedures keys of procedures that tell these causes apart
     */
    public record Entry(
            String code,
            String system,
            boolean generic,
            String meaning,
            boolean known,
            List<String> causes,
            List<String> procedures) {

        public Entry {
            causes = List.copyOf(causes);
            procedures = List.copyOf(procedures);
        }
    }

    /** The entry in the book, if it has one. */
    public static Optional<Entry> find(TroubleCode code) {
        return Optional.ofNullable(ENTRIES.get(code));
    }

    /** Always an answer: an unknown code says so, and still says whether the maker's table is the place to look. */
    public static Entry explain(TroubleCode code) {
        return find(code).orElseGet(() -> entry(code, unknownMeaning(code), false, List.of(), List.of()));
    }

    private static String unknownMeaning(TroubleCode code) {
        return code.generic()
                ? "A standard code that this book does not have; look it up in the vehicle's service information"
                : "A code of the maker's own; look it up in the vehicle's service information";
    }

    /** Entries whose code starts with what was typed, or whose meaning has all its words; in the order of the codes. */
    public static List<Entry> search(String typed) {
        String bare = typed.strip().toLowerCase(Locale.ROOT);
        if (bare.isEmpty()) {
            return List.of();
        }
        String start = bare.replace(" ", "");
        List<String> words = Arrays.asList(bare.split("\\s+"));
        return ENTRIES.values().stream()
                .filter(entry -> entry.code.toLowerCase(Locale.ROOT).startsWith(start)
                        || words.stream().allMatch(entry.meaning.toLowerCase(Locale.ROOT)::contains))
                .toList();
    }

    /** The whole book, in the order of the codes. */
    public static List<Entry> all() {
        return List.copyOf(ENTRIES.values());
    }

    private static SortedMap<TroubleCode, Entry> read() {
        SortedMap<TroubleCode, Entry> entries = new TreeMap<>();
        try (InputStream file = CodeBook.class.getResourceAsStream(RESOURCE)) {
            if (file == null) {
                throw new IllegalStateException("The code book " + RESOURCE + " is missing from the build.");
            }
            new BufferedReader(new InputStreamReader(file, StandardCharsets.UTF_8))
                    .lines()
                    .filter(line -> !line.isBlank() && !line.startsWith("#"))
                    .map(CodeBook::line)
                    .forEach(entry -> entries.put(new TroubleCode(entry.code), entry));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return Collections.unmodifiableSortedMap(entries);
    }

    private static Entry line(String line) {
        String[] cells = line.split(" \\| ", -1);
        if (cells.length != 4) {
            throw new IllegalStateException("The code book needs four columns: " + line);
        }
        return entry(
                new TroubleCode(cells[0]), cells[1], true, List.of(cells[2].split(" ")), List.of(cells[3].split(" ")));
    }

    private static Entry entry(
            TroubleCode code, String meaning, boolean known, List<String> causes, List<String> procedures) {
        return new Entry(code.text(), code.system().words(), code.generic(), meaning, known, causes, procedures);
    }
}
