package idlewright.bench.screens;

import idlewright.frame.Refused;
import jakarta.servlet.http.HttpServletRequest;
import java.io.IOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.http.InvalidMediaTypeException;
import org.springframework.http.MediaType;
import org.springframework.web.server.ResponseStatusException;
import tools.jackson.core.JacksonException;
import tools.jackson.core.StreamReadFeature;
import tools.jackson.core.TokenStreamLocation;
import tools.jackson.databind.DeserializationFeature;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * The JSON object a program sent, read field by field and strictly: a text is never taken for a number. What is wrong with
 * each field is gathered, so that a program's writer mends all of it at once.
 */
final class Sent {

    /** More than this is refused before it is read as JSON: 4 MB, about 200,000 points of a sweep. */
    static final int MOST_BYTES = 4 << 20;

    private static final int MOST_TEXTS = 10_000;

    private static final JsonMapper STRICT = JsonMapper.builder()
            .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
            .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
            // A double would turn 1e999 into infinity without a word.
            .enable(DeserializationFeature.USE_BIG_DECIMAL_FOR_FLOATS)
            .build();

    private final JsonNode object;
    private final Set<String> known = new LinkedHashSet<>();
    private final Map<String, String> problems = new LinkedHashMap<>();

    private Sent(JsonNode object) {
        this.object = object;
    }

    /** Reads the body of a request; the stream is closed by the server. */
    static Sent by(HttpServletRequest request) throws IOException {
        if (!json(request.getContentType())) {
            throw new ResponseStatusException(
                    HttpStatus.UNSUPPORTED_MEDIA_TYPE, "Send JSON, with Content-Type: application/json.");
        }
        byte[] body = request.getContentLengthLong() > MOST_BYTES
                ? new byte[MOST_BYTES + 1]
                : request.getInputStream().readNBytes(MOST_BYTES + 1);
        if (body.length > MOST_BYTES) {
            throw new ResponseStatusException(HttpStatus.CONTENT_TOO_LARGE, "A body may have 4 MB at most.");
        }
        JsonNode read;
        try {
            read = STRICT.readTree(body);
        } catch (JacksonException e) {
            throw new ResponseStatusException(HttpStatus.BAD_REQUEST, "This is not JSON%s.".formatted(place(e)));
        }
        if (!read.isObject()) {
            throw new ResponseStatusException(HttpStatus.BAD_REQUEST, "Send a JSON object: {\"field\": value, ...}.");
        }
        return new Sent(read);
    }

    private static boolean json(@Nullable String contentType) {
        try {
            return contentType != null
                    && MediaType.APPLICATION_JSON.isCompatibleWith(MediaType.parseMediaType(contentType));
        } catch (InvalidMediaTypeException e) {
            return false;
        }
    }

    private static String place(JacksonException e) {
        TokenStreamLocation at = e.getLocation();
        return at == null || at.getLineNr() < 1
                ? ""
                : ": look at line %d, column %d".formatted(at.getLineNr(), at.getColumnNr());
    }

    double number(String field) {
        Double read = optionalNumber(field);
        if (read == null) {
            problems.putIfAbsent(field, field + " is needed: a number.");
            return 0;
        }
        return read;
    }

    @Nullable
    Double optionalNumber(String field) {
        JsonNode node = node(field);
        return node == null ? null : (Double) number(field, field, node);
    }

    int whole(String field) {
        double read = number(field);
        if (read != Math.rint(read) || Math.abs(read) > Integer.MAX_VALUE) {
            problems.putIfAbsent(field, field + " must be a whole number up to 2,147,483,647.");
            return 0;
        }
        return (int) read;
    }

    double[] numbers(String field) {
        JsonNode list = list(field, "numbers");
        double[] read = new double[list == null ? 0 : list.size()];
        for (int i = 0; i < read.length && !problems.containsKey(field); i++) {
            read[i] = number(field, field + "[" + i + "]", list.get(i));
        }
        return read;
    }

    /** True and false, or 1 and 0 as statisticians write them. */
    boolean[] flags(String field) {
        JsonNode list = list(field, "true and false");
        boolean[] read = new boolean[list == null ? 0 : list.size()];
        for (int i = 0; i < read.length; i++) {
            JsonNode one = list.get(i);
            boolean zeroOrOne = one.isIntegralNumber()
                    && (one.asString().equals("0") || one.asString().equals("1"));
            if (!one.isBoolean() && !zeroOrOne) {
                problems.put(field, "%s[%d] must be true or false, but was %s.".formatted(field, i, kind(one)));
                break;
            }
            read[i] = one.isBoolean() ? one.booleanValue() : one.asString().equals("1");
        }
        return read;
    }

    String text(String field) {
        JsonNode node = node(field);
        if (node == null) {
            problems.putIfAbsent(field, field + " is needed: a text.");
        } else if (!node.isString()) {
            problems.put(field, "%s must be a text, but was %s.".formatted(field, kind(node)));
        } else {
            return node.stringValue();
        }
        return "";
    }

    String optionalText(String field) {
        return node(field) == null ? "" : text(field);
    }

    List<String> texts(String field) {
        JsonNode list = list(field, "texts");
        List<String> read = new ArrayList<>();
        for (int i = 0; list != null && i < list.size(); i++) {
            if (i == MOST_TEXTS) {
                problems.put(field, "%s may hold 10,000 texts at most, but held %d.".formatted(field, list.size()));
                break;
            }
            if (!list.get(i).isString()) {
                problems.put(field, "%s[%d] must be a text, but was %s.".formatted(field, i, kind(list.get(i))));
                break;
            }
            read.add(list.get(i).stringValue());
        }
        return read;
    }

    /** Notes a sentence beside a field that does not hold what it must. */
    void must(boolean holds, String field, String sentence) {
        if (!holds) {
            problems.putIfAbsent(field, sentence);
        }
    }

    /** Refuses with all that was gathered, a field nobody asked for included; call it before the work. */
    void done() {
        object.propertyNames().stream()
                .filter(name -> !known.contains(name))
                .limit(5)
                .forEach(name -> problems.put(
                        shortened(name),
                        "“%s” is no field of this call; it takes %s."
                                .formatted(shortened(name), String.join(", ", known))));
        Refused.ifAny(problems);
    }

    /** Does the work; what the reference refuses, naming the range, becomes the refusal of the call. */
    static <T> T refusingNonsense(Supplier<T> work) {
        try {
            return work.get();
        } catch (IllegalArgumentException e) {
            String words = String.valueOf(e.getMessage());
            String sentence = Character.toUpperCase(words.charAt(0)) + words.substring(1);
            throw Refused.because(sentence.endsWith(".") ? sentence : sentence + ".");
        }
    }

    private @Nullable JsonNode node(String field) {
        known.add(field);
        JsonNode node = object.get(field);
        return node == null || node.isNull() ? null : node;
    }

    private @Nullable JsonNode list(String field, String of) {
        JsonNode node = node(field);
        if (node == null) {
            problems.put(field, "%s is needed: a list of %s.".formatted(field, of));
        } else if (!node.isArray()) {
            problems.put(field, "%s must be a list of %s, but was %s.".formatted(field, of, kind(node)));
        } else {
            return node;
        }
        return null;
    }

    private double number(String field, String place, JsonNode node) {
        if (!node.isNumber()) {
            problems.put(field, "%s must be a number, but was %s.".formatted(place, kind(node)));
            return 0;
        }
        double read = node.decimalValue().doubleValue();
        if (Double.isInfinite(read)) {
            problems.put(field, "%s is beyond all numbers that can be calculated with.".formatted(place));
            return 0;
        }
        return read;
    }

    private static String kind(JsonNode node) {
        return node.isNull()
                ? "null"
                : node.isString()
                        ? "a text"
                        : node.isNumber()
                                ? "a number"
                                : node.isBoolean() ? "true or false" : node.isArray() ? "a list" : "an object";
    }

    private static String shortened(String name) {
        return name.length() <= 40 ? name : name.substring(0, 40) + "...";
    }
}
