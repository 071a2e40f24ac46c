package idlewright.reference.obd;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * Takes the text of an adapter apart into whole messages: chatter and echo left out, headers read, parts joined.
 *
 * <p>Source: ISO 15765-2 for the parts of a CAN message; the adapter's chatter is common practice.
 */
final class Frames {

    /** One byte of a message and where it stood, so that a complaint can point at it. */
    record Octet(int value, String text, int line, int place) {}

    /** The bytes of one whole answer of one module, header and frame bytes taken off. */
    record Message(String module, List<Octet> octets) {

        String text() {
            return octets.stream().map(Octet::text).collect(Collectors.joining(" "));
        }
    }

    private static final int LONGEST = 20_000;

    private static final Pattern NO_ANSWER = Pattern.compile("NO ?DATA|UNABLE ?TO ?CONNECT");
    private static final Pattern FAILURE = Pattern.compile(
            "BUS ?INIT *:? *\\.* *ERROR|<? ?(?:CAN|BUS|FB|DATA|RX) ?ERROR|BUS ?BUSY|BUFFER ?FULL|STOPPED|ACT ALERT|LV RESET|LP ALERT");
    private static final Pattern CHATTER = Pattern.compile("SEARCHING *\\.*|BUS ?INIT *:? *\\.* *(?:OK|ERROR)? *\\.*");
    private static final Pattern SEARCHES = Pattern.compile("SEARCHING|BUS ?INIT");
    private static final Pattern TALK = Pattern.compile("OK|AT.*|.*\\bV ?\\d+\\.\\d+[A-Z]?|\\d+\\.\\d+ ?V|\\?");
    private static final Pattern LINE_END = Pattern.compile("[\\r\\n]+");
    private static final Pattern SPACE = Pattern.compile("[\\s\\p{Zs}&&[^\\r\\n]]+");
    private static final Pattern PART_START = Pattern.compile("([0-9A-F]):");
    private static final Pattern PART = Pattern.compile("([0-9A-F]):(.*)");
    private static final Pattern LENGTH = Pattern.compile("[0-9A-F]{3}");
    private static final Pattern ECHO = Pattern.compile("0[1-9A](?:[0-9A-F]{2}){0,6}[0-9A-F]?");
    private static final Pattern ECHO_BEFORE_ANSWER =
            Pattern.compile("0([1-9A])((?:[0-9A-F]{2})?)[0-9A-F]?(?=4\\1\\2)");
    /** What the tool itself sent, as a sniffing adapter shows it: request to all modules or to one. */
    private static final Pattern CAN_REQUEST = Pattern.compile("7DF0[1-7].*|7E[0-7](?:0[1-7]|30).*");

    private static final Pattern CAN_HEADER = Pattern.compile("7E[89A-F]|18DAF1[0-9A-F]{2}");
    private static final Pattern OLD_HEADER = Pattern.compile("(?:486B|8[0-9A-F]F1)[0-9A-F]{2}");

    private final List<Message> messages = new ArrayList<>();
    private final Map<String, Assembly> assemblies = new LinkedHashMap<>();
    private final boolean manyLines;
    private @Nullable String problem;
    private boolean echoed;

    private record Line(int number, String text) {

        String compact() {
            return text.replace(" ", "");
        }

        /** This line without so many of its digits. */
        Line after(int digits) {
            int at = 0;
            for (int seen = 0; seen < digits; at++) {
                if (text.charAt(at) != ' ') {
                    seen++;
                }
            }
            return new Line(number, text.substring(at).strip());
        }
    }

    /** A message that comes in parts. */
    private final class Assembly {
        private final String module;
        private final int length;
        private final List<Octet> octets = new ArrayList<>();
        private int next;

        Assembly(String module, int length, int next) {
            this.module = module;
            this.length = length;
            this.next = next;
        }

        void add(int part, List<Octet> more) {
            if (part != next) {
                complain("Part %X of the answer is missing: part %X came instead.".formatted(next, part));
            }
            next = (part + 1) % 16;
            octets.addAll(more);
        }

        void finish() {
            if (length > octets.size()) {
                complain("The answer announces %d bytes, but only %d came.".formatted(length, octets.size()));
            }
            if (!octets.isEmpty()) {
                messages.add(
                        new Message(module, length > 0 && length < octets.size() ? octets.subList(0, length) : octets));
            }
        }
    }

    Frames(String response) {
        if (response.length() > LONGEST) {
            problem = "The answer is longer than " + LONGEST + " characters: decode it piece by piece.";
            manyLines = false;
            return;
        }
        // runs of blanks become one first: the patterns below would otherwise try every way to share them out
        String text = SPACE.matcher(
                        response.toUpperCase(Locale.ROOT).replace('\0', ' ').replace('>', '\n'))
                .replaceAll(" ");
        Matcher failure = FAILURE.matcher(text);
        if (failure.find()) {
            problem = "The link failed (%s): ask again.".formatted(failure.group());
        }
        List<Line> lines = lines(text);
        manyLines = lines.size() > 1;
        for (int i = 0; i < lines.size(); i++) {
            boolean announces = LENGTH.matcher(lines.get(i).text).matches()
                    && i + 1 < lines.size()
                    && lines.get(i + 1).text.startsWith("0:");
            if (announces) {
                start("", Integer.parseInt(lines.get(i).text, 16), 0);
            } else {
                read(lines.get(i));
            }
        }
        List.copyOf(assemblies.values()).forEach(Assembly::finish);
        if (messages.isEmpty()) {
            complain(emptyHanded(text));
        }
    }

    private String emptyHanded(String text) {
        if (NO_ANSWER.matcher(text).find()) {
            return "The vehicle gave no answer to this request.";
        }
        if (SEARCHES.matcher(text).find()) {
            return "The adapter was still looking for the vehicle's link when this was taken: no answer came.";
        }
        if (text.contains("?")) {
            return "The adapter did not understand the request (?): ask again.";
        }
        return echoed
                ? "Only the request came back, without an answer."
                : "There is nothing to decode: paste an answer, like 41 0C 1A F8.";
    }

    private static List<Line> lines(String text) {
        String bare = NO_ANSWER.matcher(text).replaceAll("\n");
        bare = FAILURE.matcher(bare).replaceAll("\n");
        bare = CHATTER.matcher(bare).replaceAll("\n");
        List<Line> lines = new ArrayList<>();
        for (String one : LINE_END.split(PART_START.matcher(bare).replaceAll("\n$1:"))) {
            String line = one.strip();
            if (!line.isEmpty() && !TALK.matcher(line).matches()) {
                lines.add(new Line(lines.size() + 1, line));
            }
        }
        return lines;
    }

    List<Message> messages() {
        return messages;
    }

    /** The first thing that is wrong with the text, if any. */
    @Nullable
    String problem() {
        return problem;
    }

    /** "Byte 3, “0G”," with the line in front when there are several. */
    String where(Octet octet) {
        return manyLines
                ? "Line %d, byte %d, \u201c%s\u201d,".formatted(octet.line, octet.place, octet.text)
                : "Byte %d, \u201c%s\u201d,".formatted(octet.place, octet.text);
    }

    private void complain(String what) {
        if (problem == null) {
            problem = what;
        }
    }

    private Assembly start(String module, int length, int next) {
        Assembly open = assemblies.remove(module);
        if (open != null) {
            open.finish();
        }
        Assembly fresh = new Assembly(module, length, next);
        assemblies.put(module, fresh);
        return fresh;
    }

    private void read(Line line) {
        String compact = line.compact();
        Matcher part = PART.matcher(line.text);
        Matcher echoBefore = ECHO_BEFORE_ANSWER.matcher(compact);
        Matcher can = CAN_HEADER.matcher(compact);
        if (CAN_REQUEST.matcher(compact).matches()) {
            echoed = true;
        } else if (part.matches()) {
            readPart(part.group(1), octets(new Line(line.number, part.group(2).strip()), 1));
        } else if (can.lookingAt()) {
            int digits = can.end();
            readCan(can.group(), octets(line.after(digits), digits == 3 ? 2 : digits / 2 + 1));
        } else if (OLD_HEADER.matcher(compact).lookingAt()) {
            List<Octet> octets = octets(line.after(6), 4);
            if (octets.size() > 1) {
                // the last byte is the checksum of the line, which the adapter has checked
                messages.add(new Message(compact.substring(4, 6), octets.subList(0, octets.size() - 1)));
            }
        } else if (echoBefore.lookingAt()) {
            echoed = true;
            add("", octets(line.after(echoBefore.end()), (echoBefore.end() + 1) / 2 + 1));
        } else if (ECHO.matcher(compact).matches()) {
            echoed = true;
        } else {
            add("", octets(line, 1));
        }
    }

    private void add(String module, List<Octet> octets) {
        if (!octets.isEmpty()) {
            messages.add(new Message(module, octets));
        }
    }

    private void readPart(String index, List<Octet> octets) {
        int part = Integer.parseInt(index, 16);
        Assembly open = assemblies.get("");
        if (open == null || (part == 0 && !open.octets.isEmpty() && open.next != 0)) {
            open = start("", 0, 0);
        }
        open.add(part, octets);
    }

    private void readCan(String header, List<Octet> octets) {
        if (octets.isEmpty()) {
            return;
        }
        Octet control = octets.get(0);
        int low = control.value & 0xF;
        List<Octet> rest = octets.subList(1, octets.size());
        switch (control.value >> 4) {
            case 0 -> {
                if (low > rest.size()) {
                    complain("%s announces %d bytes, but only %d came.".formatted(where(control), low, rest.size()));
                }
                add(header, rest.subList(0, Math.min(low, rest.size())));
            }
            case 1 -> {
                if (rest.isEmpty()) {
                    complain(where(control) + " starts a long answer, but its length is missing.");
                } else {
                    start(header, (low << 8) | rest.get(0).value, 1).octets.addAll(rest.subList(1, rest.size()));
                }
            }
            case 2 -> {
                Assembly open = assemblies.get(header);
                if (open == null) {
                    complain(where(control) + " continues a long answer whose start is missing.");
                } else {
                    open.add(low, rest);
                }
            }
            case 3 -> {
                // flow control says nothing about the vehicle
            }
            default -> complain(where(control) + " is no frame of a diagnostic answer.");
        }
    }

    /** The bytes of a line up to the first that is none, which is complained about. */
    private List<Octet> octets(Line line, int firstPlace) {
        List<Octet> octets = new ArrayList<>();
        for (String group : line.text.split(" ")) {
            for (int i = 0; i < group.length(); i += 2) {
                String two = group.substring(i, Math.min(i + 2, group.length()));
                boolean hex = two.length() == 2 && digit(two.charAt(0)) && digit(two.charAt(1));
                Octet octet =
                        new Octet(hex ? Integer.parseInt(two, 16) : 0, two, line.number, firstPlace + octets.size());
                if (!hex) {
                    complain(where(octet) + " is not two hexadecimal digits.");
                    return octets;
                }
                octets.add(octet);
            }
        }
        return octets;
    }

    private static boolean digit(char c) {
        return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'F');
    }
}
