package idlewright.reference.obd;

import idlewright.reference.codes.TroubleCode;
import idlewright.reference.obd.Frames.Message;
import idlewright.reference.obd.Frames.Octet;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/** Gives the messages that answer one request their meaning, and gathers what it finds. */
final class Reading {

    /** Payload of a CAN frame without its length byte; shorter answers may be filled up to it. */
    private static final int FULL_FRAME = 7;

    private static final int VIN_LENGTH = 17;

    private static final Map<Integer, String> REFUSALS = Map.of(
            0x10, "general reject",
            0x11, "service not supported",
            0x12, "request not supported",
            0x13, "request has the wrong length",
            0x21, "busy, ask again",
            0x22, "conditions not right",
            0x31, "request out of range",
            0x33, "access locked",
            0x78, "answer still to come");

    private final Frames frames;
    private final List<Value> values = new ArrayList<>();
    private final List<TroubleCode> codes = new ArrayList<>();
    private String service = "";
    private @Nullable String pid;
    private String name = "";
    private @Nullable Readiness readiness;
    private @Nullable String problem;

    Reading(Frames frames) {
        this.frames = frames;
    }

    Decoded decoded(String response, List<Message> answer, @Nullable String framing) {
        problem = framing;
        read(answer);
        return new Decoded(response, service, pid, name, values, codes, Optional.ofNullable(readiness), problem);
    }

    private void complain(String what) {
        if (problem == null) {
            problem = what;
        }
    }

    private void read(List<Message> answer) {
        Octet first = answer.get(0).octets().get(0);
        if (first.value() == 0x7F) {
            refused(answer.get(0).octets());
            return;
        }
        if (first.value() < 0x41 || first.value() > 0x4A) {
            name = "not an answer";
            complain(frames.where(first) + " does not start an answer: 41 to 4A or 7F is expected.");
            return;
        }
        service = hex(first.value() - 0x40);
        switch (first.value()) {
            case 0x41 -> everyModule(answer, this::live);
            case 0x42 -> everyModule(answer, this::freezeFrame);
            case 0x43 -> codes(answer, "stored codes");
            case 0x47 -> codes(answer, "pending codes");
            case 0x4A -> codes(answer, "permanent codes");
            case 0x44 -> name = "codes cleared";
            case 0x46 -> everyModule(answer, this::testResults);
            case 0x49 -> vehicleInformation(answer);
            default -> {
                name = "service " + service;
                raw(answer.get(0).octets().subList(1, answer.get(0).octets().size()));
                complain("Service " + service + " is not decoded here.");
            }
        }
    }

    private void refused(List<Octet> octets) {
        name = "refused by the vehicle";
        service = octets.size() > 1 ? octets.get(1).text() : "";
        if (octets.size() < 3) {
            complain("The vehicle refused the request and gave no reason.");
        } else {
            complain("The vehicle refused the request: %s (%s)."
                    .formatted(
                            REFUSALS.getOrDefault(octets.get(2).value(), "reason not defined"),
                            octets.get(2).text()));
        }
    }

    private interface OneMessage {
        void read(List<Octet> octets);
    }

    /** Further modules often repeat the first one's answer; only what differs is added, under their name. */
    private void everyModule(List<Message> answer, OneMessage meaning) {
        for (int i = 0; i < answer.size(); i++) {
            int before = values.size();
            meaning.read(answer.get(i).octets());
            if (i > 0) {
                String module = answer.get(i).module().isEmpty()
                        ? "answer " + (i + 1)
                        : answer.get(i).module();
                List<Value> further = List.copyOf(values.subList(before, values.size()));
                values.subList(before, values.size()).clear();
                further.stream()
                        .filter(value -> !values.contains(value))
                        .forEach(value ->
                                values.add(new Value(value.name() + " (" + module + ")", value.value(), value.unit())));
            }
        }
    }

    private void live(List<Octet> octets) {
        if (octets.size() < 2) {
            name = "live data";
            complain("The answer ends before its PID.");
            return;
        }
        List<Octet> rest = parameter(octets.subList(1, octets.size()), "");
        boolean filled = octets.size() == FULL_FRAME && filling(rest);
        if (rest.isEmpty() || filled) {
            return;
        }
        if (holdsWholeParameters(rest)) {
            while (!rest.isEmpty()) {
                rest = parameter(rest, "");
            }
        } else {
            tooMuch(rest.get(0), octets.get(1));
        }
    }

    private void tooMuch(Octet extra, Octet parameter) {
        Pid.find(parameter.value())
                .ifPresent(known -> complain("%s is one more than PID %s carries (%d)."
                        .formatted(frames.where(extra), known.hex(), known.length())));
    }

    private static boolean filling(List<Octet> octets) {
        return octets.stream().mapToInt(Octet::value).distinct().count() == 1
                && List.of(0x00, 0x55, 0xAA, 0xCC, 0xFF).contains(octets.get(0).value());
    }

    private static boolean holdsWholeParameters(List<Octet> octets) {
        int at = 0;
        while (at < octets.size()) {
            Optional<Pid> known = Pid.find(octets.get(at).value());
            if (known.isEmpty()) {
                return false;
            }
            at += 1 + known.get().length();
        }
        return at == octets.size();
    }

    /** Reads the PID at the front and its data; gives back what follows them. */
    private List<Octet> parameter(List<Octet> octets, String suffix) {
        Octet id = octets.get(0);
        List<Octet> data = octets.subList(1, octets.size());
        Optional<Pid> found = Pid.find(id.value());
        if (found.isEmpty()) {
            named(id.text(), "PID " + id.text() + suffix);
            raw(data);
            complain(frames.where(id) + " is a PID that is not in the table; its bytes stand as they came.");
            return List.of();
        }
        Pid known = found.get();
        named(known.hex(), known.name() + suffix);
        if (data.size() < known.length()) {
            complain("PID %s carries %d bytes, but only %d came.".formatted(known.hex(), known.length(), data.size()));
            if (isMonitors(known) && !data.isEmpty()) {
                readiness = Readiness.of(new int[] {data.get(0).value()});
            }
            return List.of();
        }
        meaning(known, data.subList(0, known.length()), suffix);
        return data.subList(known.length(), data.size());
    }

    /** The first parameter names the answer. */
    private void named(String hex, String words) {
        if (pid == null) {
            pid = hex;
            name = words;
        }
    }

    private static boolean isMonitors(Pid known) {
        return known.id() == 0x01 || known.id() == 0x41;
    }

    private void meaning(Pid known, List<Octet> octets, String suffix) {
        int[] data = octets.stream().mapToInt(Octet::value).toArray();
        if (known.id() % 0x20 == 0) {
            values.add(new Value(known.name() + suffix, supported(known.id(), data), ""));
        } else if (isMonitors(known)) {
            readiness = readiness == null ? Readiness.of(data) : readiness;
        } else if (known.id() == 0x02) {
            code(octets.get(0), octets.get(1));
        } else {
            known.fields().forEach(field -> {
                Value value = field.read(data);
                values.add(new Value(value.name() + suffix, value.value(), value.unit()));
            });
        }
        if (known.id() == 0x03) {
            octets.stream()
                    .filter(octet -> Integer.bitCount(octet.value()) > 1)
                    .forEach(octet -> complain(
                            frames.where(octet) + " sets several fuel system states at once, which is not allowed."));
        }
    }

    private static String supported(int base, int[] data) {
        List<String> ids = new ArrayList<>();
        for (int bit = 0; bit < 32; bit++) {
            if ((data[bit / 8] & 0x80 >> bit % 8) != 0) {
                ids.add(hex(base + bit + 1));
            }
        }
        return ids.isEmpty() ? "none" : String.join(" ", ids);
    }

    private void freezeFrame(List<Octet> octets) {
        if (octets.size() < 3) {
            name = "freeze frame";
            complain("A freeze frame answer carries a PID and a frame number; this one ends before.");
            return;
        }
        List<Octet> withoutFrame = new ArrayList<>(octets.subList(1, octets.size()));
        int frame = withoutFrame.remove(1).value();
        List<Octet> rest = parameter(withoutFrame, ", freeze frame " + frame);
        if (!rest.isEmpty() && !(octets.size() == FULL_FRAME && filling(rest))) {
            tooMuch(rest.get(0), octets.get(1));
        }
    }

    private void codes(List<Message> answer, String what) {
        name = what;
        for (Message message : answer) {
            codes(message.octets().subList(1, message.octets().size()));
        }
    }

    /**
     * On CAN a count stands before the codes, on the older protocols it does not. Codes are two bytes each, so an odd
     * number of bytes tells that there is a count, as long as it agrees with what follows.
     */
    private void codes(List<Octet> data) {
        int start = data.size() % 2;
        if (start == 1 && !countAgrees(data)) {
            start = 0;
            Octet half = data.get(data.size() - 1);
            complain(frames.where(half) + " is half a code and is left out.");
        }
        int end = start == 1 ? 1 + 2 * data.get(0).value() : data.size();
        for (int i = start; i + 1 < data.size() && i < end; i += 2) {
            code(data.get(i), data.get(i + 1));
        }
    }

    private static boolean countAgrees(List<Octet> data) {
        int end = 1 + 2 * data.get(0).value();
        return end <= data.size() && (end == data.size() || filling(data.subList(end, data.size())));
    }

    private void code(Octet first, Octet second) {
        TroubleCode code = TroubleCode.ofBytes(first.value(), second.value());
        if (code.bits() != 0 && !codes.contains(code)) {
            codes.add(code);
        }
    }

    /** CAN only: monitor, test, scaling, value, smallest and largest allowed. */
    private void testResults(List<Octet> octets) {
        name = "test results";
        if (octets.size() < 2) {
            complain("The answer ends before its monitor.");
            return;
        }
        Octet monitor = octets.get(1);
        pid = monitor.text();
        if (monitor.value() % 0x20 == 0 && octets.size() == 6) {
            int[] data = octets.subList(2, 6).stream().mapToInt(Octet::value).toArray();
            values.add(new Value("supported monitors", supported(monitor.value(), data), ""));
            return;
        }
        List<Octet> rest = octets.subList(1, octets.size());
        while (rest.size() >= 9) {
            testResult(rest);
            rest = rest.subList(9, rest.size());
        }
        if (!rest.isEmpty()) {
            complain("%s starts a test result that is cut off: each has 9 bytes.".formatted(frames.where(rest.get(0))));
        }
    }

    private void testResult(List<Octet> octets) {
        String test = "monitor %s test %s"
                .formatted(octets.get(0).text(), octets.get(1).text());
        Octet scaling = octets.get(2);
        List<String> parts = List.of("", ", smallest allowed", ", largest allowed");
        for (int i = 0; i < parts.size(); i++) {
            int raw = octets.get(3 + 2 * i).value() << 8 | octets.get(4 + 2 * i).value();
            Optional<Value> value = Scaling.read(scaling.value(), raw, test + parts.get(i));
            if (value.isEmpty()) {
                complain(frames.where(scaling) + " is a scaling that is not in the table; the numbers stand unscaled.");
            }
            values.add(value.orElseGet(() -> new Value(test, String.format(Locale.ROOT, "%04X", raw), "")));
        }
    }

    private void vehicleInformation(List<Message> answer) {
        name = "vehicle information";
        if (answer.get(0).octets().size() < 3) {
            complain("The answer ends before its data.");
            return;
        }
        Octet type = answer.get(0).octets().get(1);
        pid = type.text();
        switch (type.value()) {
            case 0x00 -> supportedInformation(answer.get(0).octets());
            case 0x02 -> vin(information(answer));
            case 0x04 -> texts(information(answer), "calibration id", 16);
            case 0x06 -> verification(information(answer));
            case 0x0A -> texts(information(answer), "module name", 20);
            default -> {
                raw(information(answer));
                complain("Information type " + pid + " is not decoded here.");
            }
        }
    }

    private void supportedInformation(List<Octet> octets) {
        name = "supported information types";
        int start = octets.size() - 4;
        if (start < 2 || start > 3) {
            complain("Information type 00 carries 4 bytes, but %d came.".formatted(octets.size() - 2));
            return;
        }
        int[] data =
                octets.subList(start, start + 4).stream().mapToInt(Octet::value).toArray();
        values.add(new Value(name, supported(0, data), ""));
    }

    /**
     * The data bytes. On CAN they follow a count in one message; older protocols number their lines of four bytes from
     * 1, and the number stands where the count stands on CAN.
     */
    private List<Octet> information(List<Message> answer) {
        boolean numbered = answer.size() > 1
                && answer.stream().allMatch(line -> line.octets().size() == FULL_FRAME);
        if (!numbered) {
            List<Octet> octets = answer.get(0).octets();
            return octets.subList(3, octets.size());
        }
        List<Message> lines = new ArrayList<>(answer);
        lines.sort(Comparator.comparingInt(line -> line.octets().get(2).value()));
        List<Octet> data = new ArrayList<>();
        for (int i = 0; i < lines.size(); i++) {
            List<Octet> octets = lines.get(i).octets();
            if (octets.get(2).value() != i + 1) {
                complain("%s numbers the lines wrongly: line %d of the answer is missing."
                        .formatted(frames.where(octets.get(2)), i + 1));
            }
            data.addAll(octets.subList(3, octets.size()));
        }
        return data;
    }

    private void vin(List<Octet> data) {
        name = "VIN";
        String vin = text(data);
        values.add(new Value("VIN", vin, ""));
        if (vin.length() != VIN_LENGTH) {
            complain("The VIN has %d characters instead of %d.".formatted(vin.length(), VIN_LENGTH));
        }
    }

    private void texts(List<Octet> data, String what, int length) {
        name = what;
        for (int at = 0; at < data.size(); at += length) {
            String text = text(data.subList(at, Math.min(at + length, data.size())));
            if (!text.isEmpty()) {
                values.add(new Value(data.size() > length ? what + " " + (at / length + 1) : what, text, ""));
            }
        }
        if (values.isEmpty()) {
            complain("No letters stand in the answer.");
        }
    }

    private void verification(List<Octet> data) {
        name = "calibration verification number";
        for (int at = 0; at + 4 <= data.size(); at += 4) {
            values.add(new Value(name, joined(data.subList(at, at + 4), ""), ""));
        }
        if (data.isEmpty() || data.size() % 4 != 0) {
            complain("Each calibration verification number has 4 bytes; %d came.".formatted(data.size()));
        }
    }

    /** Letters without the zero bytes that fill up the field. */
    private String text(List<Octet> octets) {
        StringBuilder text = new StringBuilder();
        for (Octet octet : octets) {
            if (octet.value() >= 0x20 && octet.value() < 0x7F) {
                text.append((char) octet.value());
            } else if (octet.value() != 0 && octet.value() != 0xFF) {
                complain(frames.where(octet) + " is not a letter or digit of a text.");
            }
        }
        return text.toString().strip();
    }

    private void raw(List<Octet> octets) {
        if (!octets.isEmpty()) {
            values.add(new Value("bytes", joined(octets, " "), ""));
        }
    }

    private static String joined(List<Octet> octets, String between) {
        return octets.stream().map(Octet::text).collect(Collectors.joining(between));
    }

    private static String hex(int value) {
        return String.format(Locale.ROOT, "%02X", value);
    }
}
