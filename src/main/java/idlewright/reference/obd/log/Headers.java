package idlewright.reference.obd.log;

import idlewright.reference.units.Dimension;
import idlewright.reference.units.Unit;
import java.text.Normalizer;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/** Matches the headers of any tool to quantities, by their words, their unit or the number of the SAE J1979 PID. */
final class Headers {
    private Headers() {}

    /** Below this a header counts as not recognised. */
    static final double SURE_ENOUGH = 0.5;

    /** @param unit as written; null when none was written or it is not known */
    record Match(LogQuantity quantity, @Nullable Unit unit, boolean unitWritten, double confidence) {}

    /** A "!" asks that a fitting unit is written, because the words alone say too little. */
    private static final Map<LogQuantity, List<String>> PHRASES = new EnumMap<>(LogQuantity.class);

    static {
        phrases(LogQuantity.ENGINE_SPEED, "engine rpm", "engine speed", "rpm", "engine revolutions", "revs", "nmot");
        phrases(LogQuantity.ENGINE_SPEED, "drehzahl", "motordrehzahl", "engine drehzahl", "regime engine", "regime");
        phrases(LogQuantity.ENGINE_SPEED, "revoluciones", "giri", "giri engine", "crankshaft speed");
        phrases(LogQuantity.VEHICLE_SPEED, "vehicle speed", "speed", "vss", "road speed", "vehicle speed sensor");
        phrases(LogQuantity.VEHICLE_SPEED, "geschwindigkeit", "fahrzeuggeschwindigkeit", "vitesse", "velocidad");
        phrases(LogQuantity.VEHICLE_SPEED, "vitesse vehicule", "velocita", "speed obd");
        phrases(LogQuantity.GPS_SPEED, "gps speed", "speed gps", "speed over ground", "gps vitesse");
        phrases(LogQuantity.MASS_AIR_FLOW, "mass air flow", "maf", "air flow", "airflow", "air mass", "mass airflow");
        phrases(LogQuantity.MASS_AIR_FLOW, "maf air flow rate", "air flow rate", "maf rate", "mass air flow rate");
        phrases(LogQuantity.MASS_AIR_FLOW, "luftmasse", "luftmassenstrom", "debit air", "flujo aire", "massa aria");
        phrases(LogQuantity.CALCULATED_LOAD, "calculated load", "engine load", "load", "calculated engine load");
        phrases(LogQuantity.CALCULATED_LOAD, "calc load", "load calc", "motorlast", "last", "charge engine");
        phrases(LogQuantity.CALCULATED_LOAD, "engine load calculated", "calculated engine load value", "clv");
        phrases(LogQuantity.ABSOLUTE_LOAD, "absolute load", "abs load", "load absolute", "engine load absolute");
        phrases(LogQuantity.MANIFOLD_PRESSURE, "manifold pressure", "intake manifold pressure", "map");
        phrases(LogQuantity.MANIFOLD_PRESSURE, "manifold absolute pressure", "intake manifold absolute pressure");
        phrases(LogQuantity.MANIFOLD_PRESSURE, "intake pressure", "saugrohrdruck", "inlet pressure", "map sensor");
        phrases(LogQuantity.BAROMETER, "barometric pressure", "baro", "barometer", "atmospheric pressure");
        phrases(LogQuantity.BAROMETER, "ambient pressure", "luftdruck", "umgebungsdruck", "baro pressure");
        phrases(LogQuantity.INTAKE_AIR_TEMPERATURE, "intake air temp", "iat", "intake temp", "inlet air temp");
        phrases(LogQuantity.INTAKE_AIR_TEMPERATURE, "ansauglufttemperatur", "intake manifold temp", "air temp");
        phrases(LogQuantity.INTAKE_AIR_TEMPERATURE, "temp air", "charge air temp", "intake air", "temp air admission");
        phrases(LogQuantity.AMBIENT_AIR_TEMPERATURE, "ambient air temp", "ambient temp", "outside temp", "aat");
        phrases(LogQuantity.AMBIENT_AIR_TEMPERATURE, "outside air temp", "aussentemperatur", "umgebungstemperatur");
        phrases(LogQuantity.COOLANT_TEMPERATURE, "coolant temp", "engine coolant temp", "ect", "clt", "water temp");
        phrases(LogQuantity.COOLANT_TEMPERATURE, "coolant", "engine coolant", "engine temp", "coolant temp sensor");
        phrases(LogQuantity.COOLANT_TEMPERATURE, "kuhlmitteltemperatur", "kuehlmitteltemperatur", "temp coolant");
        phrases(LogQuantity.COOLANT_TEMPERATURE, "temp liquide refroidissement", "temp refrigerante", "temp acqua");
        phrases(LogQuantity.OIL_TEMPERATURE, "oil temp", "engine oil temp", "eot", "oltemperatur", "oeltemperatur");
        phrases(LogQuantity.THROTTLE, "throttle position", "throttle", "tps", "absolute throttle position", "tp");
        phrases(LogQuantity.THROTTLE, "throttle valve", "throttle plate", "throttle angle", "drosselklappe");
        phrases(LogQuantity.THROTTLE, "drosselklappenstellung", "papillon", "mariposa", "throttle position sensor");
        phrases(LogQuantity.PEDAL, "accelerator pedal", "accelerator pedal position", "pedal position", "pedal");
        phrases(LogQuantity.PEDAL, "accelerator position", "accelerator", "fahrpedal", "fahrpedalstellung", "app");
        phrases(LogQuantity.LAMBDA, "lambda", "equivalence ratio", "air fuel ratio", "afr", "lambda value");
        phrases(LogQuantity.LAMBDA, "measured lambda", "actual lambda", "wideband", "lambda bank 1 sensor 1");
        phrases(LogQuantity.LAMBDA, "lambda bank 1", "equivalence ratio bank 1 sensor 1");
        phrases(LogQuantity.LAMBDA_2, "lambda bank 2", "equivalence ratio bank 2 sensor 1", "lambda bank 2 sensor 1");
        phrases(LogQuantity.COMMANDED_LAMBDA, "commanded equivalence ratio", "commanded lambda", "target lambda");
        phrases(LogQuantity.COMMANDED_LAMBDA, "desired lambda", "commanded afr", "target afr", "lambda target");
        phrases(LogQuantity.COMMANDED_LAMBDA, "fuel air commanded equivalence ratio", "commanded air fuel ratio");
        phrases(LogQuantity.FUEL_RATE, "fuel rate", "engine fuel rate", "fuel flow!", "fuel consumption!");
        phrases(LogQuantity.FUEL_RATE, "consumption!", "fuel flow rate", "kraftstoffverbrauch!", "verbrauch!");
        phrases(LogQuantity.SPARK_ADVANCE, "spark advance", "timing advance", "ignition timing", "ignition advance");
        phrases(LogQuantity.SPARK_ADVANCE, "advance", "spark timing", "zundwinkel", "zundzeitpunkt", "spark angle");
        phrases(LogQuantity.MODULE_VOLTAGE, "control module voltage", "module voltage", "battery voltage");
        phrases(LogQuantity.MODULE_VOLTAGE, "system voltage", "battery", "vpwr", "vbatt", "batteriespannung");
        phrases(LogQuantity.MODULE_VOLTAGE, "bordspannung", "supply voltage", "ecu voltage", "voltage!", "vbat");
        phrases(
                LogQuantity.FUEL_LEVEL,
                "fuel level",
                "fuel level input",
                "tank level",
                "fuel tank level",
                "tankinhalt");
        phrases(LogQuantity.RAIL_PRESSURE, "rail pressure", "fuel rail pressure", "fuel pressure", "raildruck");
        phrases(LogQuantity.RAIL_PRESSURE, "fuel rail gauge pressure", "common rail pressure", "kraftstoffdruck");
        phrases(LogQuantity.RUN_TIME, "run time", "engine run time", "time since engine start", "runtime");
        phrases(LogQuantity.RUN_TIME, "run time since engine start", "engine runtime");
        phrases(LogQuantity.IGNORED, "latitude", "longitude", "altitude", "date", "distance", "odometer", "bearing");
        phrases(LogQuantity.IGNORED, "gps latitude", "gps longitude", "gps altitude", "gps accuracy", "heading", "vin");
    }

    /** Nothing but these words may stand in the header of a time column: "injection time" is no time. */
    private static final Set<String> TIME_WORDS = Set.of(
            "time",
            "elapsed",
            "stamp",
            "timestamp",
            "device",
            "log",
            "clock",
            "frame",
            "sec",
            "secs",
            "second",
            "seconds",
            "ms",
            "msec",
            "millis",
            "milliseconds",
            "utc",
            "local",
            "total",
            "t",
            "s",
            "session",
            "zeit",
            "zeitstempel",
            "uhrzeit",
            "temps",
            "tiempo",
            "tempo",
            "hora",
            "heure",
            "date",
            "datetime",
            "system",
            "relative",
            "sample",
            "marke",
            "iso",
            "of",
            "day");

    private static final Set<String> TIME_ALONE = Set.of(
            "time",
            "elapsed",
            "timestamp",
            "clock",
            "sec",
            "secs",
            "second",
            "seconds",
            "ms",
            "msec",
            "millis",
            "milliseconds",
            "t",
            "s",
            "zeit",
            "zeitstempel",
            "uhrzeit",
            "temps",
            "tiempo",
            "tempo",
            "hora",
            "heure",
            "datetime",
            "marke");

    private static final Set<String> FILLERS = Set.of(
            "the",
            "of",
            "value",
            "sensor",
            "actual",
            "obd",
            "obdii",
            "ecu",
            "ecm",
            "pcm",
            "sae",
            "pid",
            "a",
            "b",
            "data",
            "current",
            "reading",
            "measured",
            "signal",
            "raw",
            "live",
            "de",
            "du",
            "moteur2",
            "der",
            "1");

    /** A header with one of these, outside its phrase, means something near the quantity but not it. */
    private static final Set<String> OTHERWISE = Set.of(
            "fan",
            "turbine",
            "shaft",
            "input",
            "output",
            "wheel",
            "transmission",
            "gear",
            "clutch",
            "turbo",
            "pump",
            "alternator",
            "generator",
            "idle",
            "desired",
            "target",
            "commanded",
            "requested",
            "setpoint",
            "specified",
            "soll",
            "wind",
            "gps",
            "catalyst",
            "cat",
            "exhaust",
            "egt",
            "egr",
            "evap",
            "purge",
            "oil",
            "ambient",
            "cylinder",
            "knock",
            "injector",
            "injection",
            "pulse",
            "dwell",
            "ac",
            "brake",
            "cruise",
            "max",
            "min",
            "maximum",
            "minimum",
            "average",
            "mean",
            "avg",
            "error",
            "deviation",
            "learned",
            "limit",
            "distance",
            "relative",
            "percentile",
            "status",
            "counter",
            "warmups",
            "torque",
            "power",
            "co2",
            "heater",
            "monitor",
            "absolute",
            "differential",
            "vapor",
            "vapour",
            "battery",
            "hybrid",
            "acceleration",
            "o2",
            "trim");

    private static final Map<String, String> SAME = Map.ofEntries(
            Map.entry("temperature", "temp"),
            Map.entry("temperatur", "temp"),
            Map.entry("temperatura", "temp"),
            Map.entry("tmp", "temp"),
            Map.entry("press", "pressure"),
            Map.entry("prs", "pressure"),
            Map.entry("pos", "position"),
            Map.entry("eng", "engine"),
            Map.entry("motor", "engine"),
            Map.entry("moteur", "engine"),
            Map.entry("veh", "vehicle"),
            Map.entry("spd", "speed"),
            Map.entry("spark", "spark"),
            Map.entry("ign", "ignition"),
            Map.entry("adv", "advance"),
            Map.entry("accel", "accelerator"),
            Map.entry("accelerometer", "acceleration"),
            Map.entry("volts", "voltage"),
            Map.entry("volt", "voltage"),
            Map.entry("batt", "battery"),
            Map.entry("thr", "throttle"),
            Map.entry("throt", "throttle"),
            Map.entry("calcd", "calculated"),
            Map.entry("ambiant", "ambient"),
            Map.entry("oxygen", "o2"),
            Map.entry("ho2s", "o2"),
            Map.entry("o2s", "o2"));

    private static final Map<Integer, LogQuantity> PIDS = Map.ofEntries(
            Map.entry(0x04, LogQuantity.CALCULATED_LOAD),
            Map.entry(0x05, LogQuantity.COOLANT_TEMPERATURE),
            Map.entry(0x06, LogQuantity.SHORT_TRIM_1),
            Map.entry(0x07, LogQuantity.LONG_TRIM_1),
            Map.entry(0x08, LogQuantity.SHORT_TRIM_2),
            Map.entry(0x09, LogQuantity.LONG_TRIM_2),
            Map.entry(0x0B, LogQuantity.MANIFOLD_PRESSURE),
            Map.entry(0x0C, LogQuantity.ENGINE_SPEED),
            Map.entry(0x0D, LogQuantity.VEHICLE_SPEED),
            Map.entry(0x0E, LogQuantity.SPARK_ADVANCE),
            Map.entry(0x0F, LogQuantity.INTAKE_AIR_TEMPERATURE),
            Map.entry(0x10, LogQuantity.MASS_AIR_FLOW),
            Map.entry(0x11, LogQuantity.THROTTLE),
            Map.entry(0x1F, LogQuantity.RUN_TIME),
            Map.entry(0x23, LogQuantity.RAIL_PRESSURE),
            Map.entry(0x2F, LogQuantity.FUEL_LEVEL),
            Map.entry(0x33, LogQuantity.BAROMETER),
            Map.entry(0x42, LogQuantity.MODULE_VOLTAGE),
            Map.entry(0x43, LogQuantity.ABSOLUTE_LOAD),
            Map.entry(0x44, LogQuantity.COMMANDED_LAMBDA),
            Map.entry(0x46, LogQuantity.AMBIENT_AIR_TEMPERATURE),
            Map.entry(0x49, LogQuantity.PEDAL),
            Map.entry(0x5C, LogQuantity.OIL_TEMPERATURE),
            Map.entry(0x5E, LogQuantity.FUEL_RATE));

    private static final Pattern BRACKETS = Pattern.compile("[(\\[{]([^()\\[\\]{}]*)[)\\]}]");
    private static final Pattern PID = Pattern.compile("(?i)(?:pid[ _:-]*)?(?:0x|01[ _-]?|\\$)([0-9a-f]{2})");
    private static final Pattern BANK = Pattern.compile("(?:bank|b) ?([12])(?:\\D|$)");
    private static final Pattern SENSOR = Pattern.compile("(?:sensor|s) ?([1-4])(?:\\D|$)");
    private static final Pattern O2_PAIR = Pattern.compile("o2 ?s? ?([12])[ x]?([1-4])(?:\\D|$)");

    private static void phrases(LogQuantity quantity, String... phrases) {
        PHRASES.computeIfAbsent(quantity, q -> new ArrayList<>()).addAll(List.of(phrases));
    }

    /** The best reading of one header; {@code units} is its cell in a units row, or the units column, or empty. */
    static Match match(String header, String units) {
        String name = header;
        Unit unit = units.isBlank() ? null : Unit.of(units).orElse(null);
        boolean written = !units.isBlank();
        Matcher brackets = BRACKETS.matcher(header);
        while (unit == null && brackets.find()) {
            Optional<Unit> inside = Unit.of(unitText(brackets.group(1)));
            if (inside.isPresent() && !brackets.group(1).isBlank()) {
                unit = inside.get();
                written = true;
                name = header.substring(0, brackets.start()) + " " + header.substring(brackets.end());
            } else if (brackets.end() == header.length() && isShortUnit(brackets.group(1))) {
                written = true;
            }
        }
        String trimmed = name.strip();
        Matcher pid = PID.matcher(trimmed);
        if (pid.matches()) {
            LogQuantity quantity = PIDS.get(Integer.parseInt(pid.group(1), 16));
            if (quantity != null) {
                return new Match(quantity, unit, written, 0.9);
            }
        }
        List<String> words = words(trimmed);
        if (words.isEmpty()) {
            return new Match(LogQuantity.UNKNOWN, unit, written, 0);
        }
        Match trim = trim(words, unit, written);
        if (trim != null) {
            return trim;
        }
        Match oxygen = oxygen(words, unit, written);
        if (oxygen != null) {
            return oxygen;
        }
        Match time = time(words, unit, written);
        if (time != null) {
            return time;
        }
        Match best = null;
        for (Map.Entry<LogQuantity, List<String>> entry : PHRASES.entrySet()) {
            for (String phrase : entry.getValue()) {
                Match match = score(entry.getKey(), phrase, words, unit, written);
                if (match != null && (best == null || match.confidence() > best.confidence())) {
                    best = match;
                }
            }
        }
        return best == null || best.confidence() < SURE_ENOUGH
                ? new Match(LogQuantity.UNKNOWN, unit, written, best == null ? 0 : best.confidence())
                : best;
    }

    /** "in. Hg" and "deg C" are left to {@link Unit#of}; "km/h " and "unit: V" are helped along. */
    private static String unitText(String inside) {
        return inside.replaceFirst("(?i)^\\s*units?\\s*[:=]\\s*", "");
    }

    private static boolean isShortUnit(String inside) {
        return inside.length() <= 8
                && !inside.isBlank()
                && !inside.toLowerCase(Locale.ROOT).matches(".*(bank|b\\d|s\\d).*");
    }

    private static @Nullable Match score(
            LogQuantity quantity, String phrase, List<String> words, @Nullable Unit unit, boolean written) {
        boolean unitAsked = phrase.endsWith("!");
        List<String> wanted = List.of((unitAsked ? phrase.substring(0, phrase.length() - 1) : phrase).split(" "));
        if (!words.containsAll(wanted)) {
            return null;
        }
        List<String> rest = new ArrayList<>(words);
        wanted.forEach(rest::remove);
        Unit found = unit;
        if (found == null && !written && !rest.isEmpty()) {
            found = lastWordsAsUnit(rest, quantity.unit().dimension());
        }
        if (found == null && !written && wanted.size() == 1 && wanted.get(0).equals("rpm")) {
            found = Unit.RPM;
        }
        boolean fits = found != null && fits(found, quantity);
        if (unitAsked && !fits) {
            return null;
        }
        Set<String> filtered = new HashSet<>(rest);
        filtered.removeAll(FILLERS);
        double share = wanted.size() / (double) (wanted.size() + filtered.size());
        double confidence = 0.5 + 0.35 * share + (fits ? 0.15 : found == null && !written ? 0.1 : 0);
        if (wanted.size() == 1) {
            confidence *= 0.9;
        }
        if (quantity == LogQuantity.IGNORED) {
            return new Match(quantity, null, false, confidence);
        }
        if (found != null && !fits) {
            confidence *= 0.3;
        }
        for (String word : filtered) {
            if (OTHERWISE.contains(word)) {
                confidence *= 0.5;
                break;
            }
        }
        // A longer phrase wins over a part of itself.
        confidence = Math.min(1, confidence + 0.001 * wanted.size());
        return new Match(quantity, found, written || found != null, confidence);
    }

    /** Takes "g s", "km h", "kpa" or "c" off the end when it is a unit of the wanted dimension. */
    private static @Nullable Unit lastWordsAsUnit(List<String> rest, Dimension wanted) {
        int size = rest.size();
        if (size >= 2) {
            String two = rest.get(size - 2) + "/" + rest.get(size - 1);
            Unit unit = Unit.of(two)
                    .orElse(Unit.of(rest.get(size - 2) + rest.get(size - 1)).orElse(null));
            if (unit != null && unit.dimension() == wanted) {
                rest.remove(size - 1);
                rest.remove(size - 2);
                return unit;
            }
        }
        Unit unit = Unit.of(rest.get(size - 1)).orElse(null);
        if (unit != null
                && (unit.dimension() == wanted || size == 1 && rest.get(0).length() > 2)) {
            rest.remove(size - 1);
            return unit;
        }
        return null;
    }

    static boolean fits(Unit unit, LogQuantity quantity) {
        if (unit.upsideDown()) {
            return false;
        }
        return unit.dimension() == quantity.unit().dimension()
                || quantity.unit() == Unit.LAMBDA && unit.dimension() == Dimension.AIR_FUEL_RATIO;
    }

    private static @Nullable Match time(List<String> words, @Nullable Unit unit, boolean written) {
        boolean some = false;
        for (String word : words) {
            if (!TIME_WORDS.contains(word)) {
                return null;
            }
            some |= TIME_ALONE.contains(word);
        }
        if (!some) {
            return null;
        }
        Unit found = unit;
        if (found == null) {
            String last = words.get(words.size() - 1);
            found = Set.of("millis", "milliseconds", "msec", "ms").contains(last)
                    ? Unit.MILLISECOND
                    : last.startsWith("sec") || last.equals("s") ? Unit.SECOND : null;
        }
        boolean fits = found != null && found.dimension() == Dimension.TIME;
        if (found != null && !fits) {
            return null;
        }
        double confidence = fits ? 0.95 : 0.8;
        return new Match(LogQuantity.TIME, found, written || found != null, confidence);
    }

    /** "STFT B1", "Short term fuel trim - bank 2", "LONGFT1". */
    private static @Nullable Match trim(List<String> words, @Nullable Unit unit, boolean written) {
        String all = String.join(" ", words);
        boolean abbreviated = all.matches(".*\\b(stft|ltft|shrtft|longft|shortft|lngft)\\d?\\d?\\b.*");
        boolean spelled = words.contains("trim") && (words.contains("fuel") || words.contains("term"));
        if (!abbreviated && !spelled
                || words.contains("o2")
                || unit != null && unit.dimension() != Dimension.RATIO_PERCENT) {
            return null;
        }
        boolean isLong = all.matches(".*\\b(long|ltft\\d*|longft\\d*|lngft\\d*)\\b.*");
        boolean isShort = all.matches(".*\\b(short|shrt|stft\\d*|shrtft\\d*|shortft\\d*)\\b.*");
        if (isLong == isShort) {
            return null;
        }
        boolean second = all.matches(".*(bank ?2|b2|ft2)\\b.*") || all.endsWith(" 2");
        boolean first = all.matches(".*(bank ?1|b1|ft1)\\b.*") || all.endsWith(" 1");
        double confidence = (first || second ? 0.9 : 0.75) + (unit != null ? 0.1 : 0);
        LogQuantity quantity = second
                ? isLong ? LogQuantity.LONG_TRIM_2 : LogQuantity.SHORT_TRIM_2
                : isLong ? LogQuantity.LONG_TRIM_1 : LogQuantity.SHORT_TRIM_1;
        return new Match(quantity, unit, written, confidence);
    }

    /** Needs volts: the same sensors also report a current, a lambda or a trim. */
    private static @Nullable Match oxygen(List<String> words, @Nullable Unit unit, boolean written) {
        String all = String.join(" ", words);
        if (!all.contains("o2") && !(words.contains("lambda") && words.contains("voltage")) || all.contains("co2")) {
            return null;
        }
        boolean volts = unit != null && unit.dimension() == Dimension.VOLTAGE
                || unit == null && (words.contains("voltage") || words.contains("v") || words.contains("mv"));
        Matcher bank = BANK.matcher(all);
        Matcher sensor = SENSOR.matcher(all);
        Matcher pair = O2_PAIR.matcher(all);
        String which = bank.find() && sensor.find(Math.max(0, bank.end() - 1))
                ? bank.group(1) + sensor.group(1)
                : pair.find() ? pair.group(1) + pair.group(2) : "";
        LogQuantity quantity = switch (which) {
            case "11" -> LogQuantity.O2_VOLTS_B1S1;
            case "12" -> LogQuantity.O2_VOLTS_B1S2;
            case "21" -> LogQuantity.O2_VOLTS_B2S1;
            case "22" -> LogQuantity.O2_VOLTS_B2S2;
            default -> LogQuantity.UNKNOWN;
        };
        if (quantity == LogQuantity.UNKNOWN || !volts) {
            return null;
        }
        Unit found = unit == null && words.contains("mv") ? Unit.MILLIVOLT : unit;
        return new Match(quantity, found, written || found != null, unit == null ? 0.8 : 0.95);
    }

    /** Lower case, accents off, split at case changes and at everything that is no letter or digit. */
    static List<String> words(String header) {
        String split =
                header.replaceAll("([\\p{Ll}\\d])(\\p{Lu}\\p{Ll})", "$1 $2").replaceAll("(\\p{Ll})(\\p{Lu})", "$1 $2");
        String bare = Normalizer.normalize(split, Normalizer.Form.NFD)
                .replaceAll("\\p{M}", "")
                .replace("%", " pct ")
                .toLowerCase(Locale.ROOT);
        List<String> words = new ArrayList<>();
        for (String word : bare.split("[^\\p{L}\\p{N}]+")) {
            if (!word.isEmpty()) {
                words.add(SAME.getOrDefault(word, word));
            }
        }
        return words;
    }
}
