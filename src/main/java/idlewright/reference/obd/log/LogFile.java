package idlewright.reference.obd.log;

import idlewright.reference.obd.log.LogReading.Column;
import idlewright.reference.obd.log.LogReading.Ramp;
import idlewright.reference.obd.log.LogReading.Series;
import idlewright.reference.obd.log.LogReading.State;
import idlewright.reference.units.Dimension;
import idlewright.reference.units.Unit;
import java.io.BufferedInputStream;
import java.io.ByteArrayInputStream;
import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.SequenceInputStream;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.function.LongConsumer;
import org.jspecify.annotations.Nullable;

/**
 * Reads a scan-tool log of any tool once, from a stream, in bounded memory.
 *
 * <p>Limits: {@value #MOST_ROWS} data rows (what follows is not read, and said), {@value Fields#MOST} columns or names,
 * {@value Lines#LONGEST} characters a line. Nothing in a file makes this throw; only the stream itself can.
 */
public final class LogFile {
    /** Data rows read of one file. */
    public static final long MOST_ROWS = 50_000_000;

    private static final int HEAD = 1 << 17;
    private static final int BLOCK = 1 << 17;
    private static final int BAD_LINES_NAMED = 8;
    private static final int COLUMNS_REMARKED = 24;
    private static final long PROGRESS_STEP = 1 << 20;

    private final LogOptions options;
    private final Map<String, LogQuantity> overrides = new HashMap<>();
    private final Layout layout;
    private final Cells cells;
    private final Clock clock;
    private final List<Track> tracks = new ArrayList<>();

    /** By column index in wide form; null for what is not read. */
    private final @Nullable Track[] byColumn;

    private final Map<String, Track> byName = new HashMap<>();

    /** The column read for each quantity. */
    private final @Nullable Track[] owners = new @Nullable Track[Held.SIZE];

    private final Held held = new Held();
    private final Plausibility plausibility = new Plausibility();
    private final SteadyStates steadyStates;
    private final Ramps throttleRamps = new Ramps(LogQuantity.THROTTLE, 20, 2);
    private final Ramps pedalRamps = new Ramps(LogQuantity.PEDAL, 25, 2);
    private final Ramps speedRamps = new Ramps(LogQuantity.ENGINE_SPEED, 1200, 60);
    private final Trapezoid distance = new Trapezoid();
    private final Trapezoid gpsDistance = new Trapezoid();
    private final Trapezoid fuelFromRate = new Trapezoid();
    private final Trapezoid fuelFromFlow = new Trapezoid();
    private final Sampled airFuelRatios = new Sampled();
    private final OptionalDouble litresPerHourPerGram;

    private long rows;
    private long badLines;
    private long repeated;
    private long backwards;
    private long withoutTime;
    private long namesLeftOut;
    private boolean cutOff;
    private final List<String> badNamed = new ArrayList<>();
    private double origin = Double.NaN;
    private double lastTime = Double.NaN;
    private double shift;

    /** One column, or one name of the long form. */
    private static final class Track {
        final String header;
        LogQuantity quantity;

        @Nullable
        Unit unit;

        boolean unitAssumed;
        double confidence;
        boolean used = true;
        double factor = 1;
        double offset;
        final Preview preview = new Preview();
        long n;
        long texts;
        double lowest = Double.MAX_VALUE;
        double highest = -Double.MAX_VALUE;
        double lastTime = Double.NaN;
        double last = Double.NaN;

        Track(String header, LogQuantity quantity) {
            this.header = header;
            this.quantity = quantity;
        }
    }

    private LogFile(Layout layout, LogOptions options) {
        this.layout = layout;
        this.options = options;
        options.overrides().forEach((header, quantity) -> overrides.put(key(header), quantity));
        this.cells = new Cells(layout.decimal());
        this.clock = new Clock(layout.decimal(), layout.timeScale());
        this.byColumn = new @Nullable Track[layout.headers().size()];
        this.steadyStates = new SteadyStates(options.fuel() == Fuel.DIESEL);
        this.litresPerHourPerGram =
                options.fuel() == null ? OptionalDouble.empty() : options.fuel().litresPerHourPerGramOfAir();
    }

    /**
     * Reads a log to its end.
     *
     * @param in the bytes as the tool wrote them; not closed
     * @throws IOException only when the stream fails
     */
    public static LogReading read(InputStream in, LogOptions options) throws IOException {
        Counted counted = new Counted(in, options.progress());
        byte[] head = counted.readNBytes(HEAD);
        Encoding encoding = Encoding.of(head);
        String start = new String(head, encoding.markLength(), head.length - encoding.markLength(), encoding.charset());
        Map<String, LogQuantity> keyed = new HashMap<>();
        options.overrides().forEach((header, quantity) -> keyed.put(key(header), quantity));
        Layout layout = isBinary(start) ? null : Layout.of(wholeLines(start, head.length == HEAD), keyed);
        if (layout == null) {
            counted.finish();
            return unreadable(
                    start.isBlank()
                            ? "The file is empty."
                            : "This is no table of text: "
                                    + "no row of numbers with a header was found. Export the log as CSV.");
        }
        LogFile file = new LogFile(layout, options);
        InputStream all = new SequenceInputStream(
                new ByteArrayInputStream(head, encoding.markLength(), head.length - encoding.markLength()),
                new BufferedInputStream(counted, BLOCK));
        file.readAll(new Lines(new InputStreamReader(all, encoding.charset())));
        counted.finish();
        return file.reading();
    }

    private static LogReading unreadable(String why) {
        return new LogReading(
                0,
                0,
                false,
                List.of(why),
                List.of(),
                0,
                List.of(),
                List.of(),
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                List.of());
    }

    private static boolean isBinary(String start) {
        int odd = 0;
        for (int i = 0; i < start.length(); i++) {
            char c = start.charAt(i);
            odd += c < ' ' && c != '\n' && c != '\r' && c != '\t' || c == '\ufffd' ? 1 : 0;
        }
        return odd > start.length() / 10;
    }

    /** The last line of the head is cut off somewhere. */
    private static String wholeLines(String start, boolean cut) {
        int end = Math.max(start.lastIndexOf('\n'), start.lastIndexOf('\r'));
        return cut && end > 0 ? start.substring(0, end) : start;
    }

    private static String key(String header) {
        return header.strip().toLowerCase(Locale.ROOT);
    }

    private void readAll(Lines lines) throws IOException {
        if (layout.longForm() == null) {
            nameColumns();
        }
        Fields fields = new Fields(layout.delimiter());
        while (lines.advance()) {
            if (lines.number < layout.firstDataLine()) {
                continue;
            }
            if (lines.tooLong) {
                bad(lines.number, "longer than " + Lines.LONGEST + " characters");
                continue;
            }
            fields.split(lines.text, lines.from, lines.to);
            if (fields.count == 1 && fields.blank(0)) {
                continue;
            }
            if (rows >= MOST_ROWS) {
                cutOff = true;
                return;
            }
            if (fields.tooMany) {
                bad(lines.number, "more than " + Fields.MOST + " fields");
            } else if (!fits(fields)) {
                bad(
                        lines.number,
                        fields.count + " fields where the header has "
                                + layout.headers().size());
            } else if (layout.longForm() == null) {
                wideRow(lines, fields);
            } else {
                longRow(lines, fields, layout.longForm());
            }
        }
    }

    /** Empty fields too many, from stray delimiters at the end, do no harm; filled ones mean that columns are shifted. */
    private boolean fits(Fields fields) {
        for (int i = layout.headers().size(); i < fields.count; i++) {
            if (!fields.blank(i)) {
                return false;
            }
        }
        return true;
    }

    private void nameColumns() {
        for (int i = 0; i < layout.headers().size(); i++) {
            String header = layout.headers().get(i);
            if (i == layout.timeColumn()) {
                Track time = track(header, Layout.cell(layout.units(), i));
                time.quantity = LogQuantity.TIME;
                time.confidence = Math.max(time.confidence, 0.5);
                if (time.unit == null || time.unit.dimension() != Dimension.TIME) {
                    time.unit = Unit.SECOND;
                }
                tracks.add(time);
                continue;
            }
            if (header.isEmpty()) {
                continue;
            }
            Track track = track(header, Layout.cell(layout.units(), i));
            tracks.add(track);
            if (!track.quantity.read()) {
                if (track.quantity == LogQuantity.TIME) {
                    track.used = false;
                }
                continue;
            }
            Track rival = owners[track.quantity.ordinal()];
            if (rival != null && rival.confidence >= track.confidence) {
                track.used = false;
            } else {
                if (rival != null) {
                    rival.used = false;
                    Arrays.setAll(byColumn, c -> byColumn[c] == rival ? null : byColumn[c]);
                }
                owners[track.quantity.ordinal()] = track;
                byColumn[i] = track;
            }
        }
    }

    private Track track(String header, String units) {
        Headers.Match match = Headers.match(header, units);
        LogQuantity said = overrides.get(key(header));
        Track track = new Track(header, said == null ? match.quantity() : said);
        track.confidence = said == null ? match.confidence() : 1;
        track.unit = match.unit();
        if (!track.quantity.read()) {
            track.unit = null;
            return track;
        }
        Unit unit = match.unit();
        if (unit == null || !Headers.fits(unit, track.quantity)) {
            track.unitAssumed = true;
            unit = track.quantity.unit();
        }
        track.unit = unit;
        if (unit == Unit.AFR) {
            track.factor = 1 / (options.fuel() == null ? Fuel.PETROL : options.fuel()).airFuelRatio();
        } else if (unit != track.quantity.unit()) {
            Unit own = track.quantity.unit();
            track.offset = own.fromSi(unit.toSi(0.0));
            track.factor = own.fromSi(unit.toSi(1.0)) - track.offset;
        }
        return track;
    }

    private void wideRow(Lines lines, Fields fields) {
        double time = rows;
        if (layout.timeColumn() >= 0) {
            int t = layout.timeColumn();
            time = t < fields.count ? clock.read(lines.text, fields.start[t], fields.end[t]) : Double.NaN;
            if (Double.isNaN(time)) {
                withoutTime(lines, fields);
                return;
            }
        }
        int wanted = 0;
        int texts = 0;
        boolean news = false;
        boolean moved = !(time + shift - origin == lastTime);
        int columns = Math.min(fields.count, byColumn.length);
        double now = moved ? at(time) : lastTime;
        held.fresh = 0;
        for (int i = 0; i < columns; i++) {
            Track track = byColumn[i];
            if (track == null) {
                continue;
            }
            double raw = cells.read(lines.text, fields.start[i], fields.end[i]);
            if (cells.outcome == Cells.NUMBER) {
                wanted++;
                if (moved || raw != track.last) {
                    news = true;
                    take(track, now, raw);
                }
            } else if (cells.outcome == Cells.TEXT) {
                wanted++;
                texts++;
                track.texts++;
            }
        }
        if (texts > 0 && texts * 2 > wanted) {
            bad(lines.number, "text where numbers are expected");
            if (texts == wanted) {
                return;
            }
        }
        if (!moved && !news) {
            repeated++;
            return;
        }
        rows++;
        endRow(now);
    }

    private void withoutTime(Lines lines, Fields fields) {
        int numbers = 0;
        int filled = 0;
        boolean header = true;
        for (int i = 0; i < Math.min(fields.count, layout.headers().size()); i++) {
            header &= fields.text(lines.text, i).equals(layout.headers().get(i));
            if (!fields.blank(i)) {
                filled++;
                cells.read(lines.text, fields.start[i], fields.end[i]);
                numbers += cells.outcome == Cells.NUMBER ? 1 : 0;
            }
        }
        if (header) {
            repeated++;
        } else if (filled > 0) {
            withoutTime++;
            bad(lines.number, numbers > 0 ? "no time that can be read" : "no numbers");
        }
    }

    private void longRow(Lines lines, Fields fields, Layout.LongForm form) {
        int t = layout.timeColumn();
        double time =
                t < 0 ? rows : t < fields.count ? clock.read(lines.text, fields.start[t], fields.end[t]) : Double.NaN;
        if (Double.isNaN(time)) {
            withoutTime(lines, fields);
            return;
        }
        if (form.name() >= fields.count || form.value() >= fields.count || fields.blank(form.name())) {
            bad(
                    lines.number,
                    fields.count + " fields where the header has "
                            + layout.headers().size());
            return;
        }
        double raw = cells.read(lines.text, fields.start[form.value()], fields.end[form.value()]);
        byte outcome = cells.outcome;
        Track track = named(lines, fields, form);
        if (track == null) {
            namesLeftOut++;
            return;
        }
        if (outcome == Cells.TEXT) {
            track.texts++;
            if (track.quantity.read()) {
                bad(lines.number, "text where a number is expected");
            }
            return;
        }
        boolean moved = !(time + shift - origin == lastTime);
        double now = moved ? at(time) : lastTime;
        if (outcome == Cells.NUMBER && track.lastTime == now && track.last == raw) {
            repeated++;
            return;
        }
        rows++;
        if (outcome == Cells.NUMBER) {
            held.fresh = 0;
            if (track.quantity.read() && track.used) {
                take(track, now, raw);
            } else {
                track.n++;
                if (track.quantity.read()) {
                    challenge(track);
                }
            }
            track.last = raw;
            track.lastTime = now;
            endRow(now);
        }
    }

    /** Null when there are too many names. */
    private @Nullable Track named(Lines lines, Fields fields, Layout.LongForm form) {
        int from = fields.start[form.name()];
        String name = new String(lines.text, from, Math.min(200, fields.end[form.name()] - from));
        Track known = byName.get(name);
        if (known != null || byName.size() >= Fields.MOST) {
            return known;
        }
        String units = form.units() >= 0 && form.units() < fields.count ? fields.text(lines.text, form.units()) : "";
        Track track = track(name, units);
        if (track.quantity.read()) {
            Track owner = owners[track.quantity.ordinal()];
            track.used = owner == null || owner.confidence < track.confidence;
            if (track.used) {
                own(track, owner);
            }
        }
        byName.put(name, track);
        tracks.add(track);
        return track;
    }

    /** A garbled name that came first must not keep the place of the true one. */
    private void challenge(Track track) {
        Track owner = owners[track.quantity.ordinal()];
        if (owner == null || track.n > 5 + 3 * owner.n) {
            own(track, owner);
        }
    }

    private void own(Track track, @Nullable Track before) {
        if (before != null) {
            before.used = false;
        }
        track.used = true;
        owners[track.quantity.ordinal()] = track;
    }

    /** Seconds from the first row. A clock that falls back starts a new piece; by under a second it only trembles. */
    private double at(double time) {
        if (Double.isNaN(origin)) {
            origin = time;
            lastTime = 0;
            return 0;
        }
        double now = time + shift - origin;
        if (now < lastTime) {
            if (now < lastTime - 1) {
                backwards++;
                shift += lastTime + 1 - now;
                breakHere();
                now = lastTime + 1;
            } else {
                now = lastTime;
            }
        }
        lastTime = now;
        return now;
    }

    private void breakHere() {
        steadyStates.breakHere();
        throttleRamps.breakHere();
        pedalRamps.breakHere();
        speedRamps.breakHere();
        distance.breakHere();
        gpsDistance.breakHere();
        fuelFromRate.breakHere();
        fuelFromFlow.breakHere();
        held.forget();
    }

    private void take(Track track, double time, double raw) {
        double value = raw * track.factor + track.offset;
        LogQuantity quantity = track.quantity;
        track.last = raw;
        track.n++;
        if (value < track.lowest) {
            track.lowest = value;
        }
        if (value > track.highest) {
            track.highest = value;
        }
        boolean believed = plausibility.believes(quantity, value);
        // What is far beyond any coding of the standard would only flatten the picture.
        if (believed || Math.abs(value) <= 6 * Math.max(Math.abs(quantity.lowest()), quantity.highest())) {
            track.preview.add(time, value);
        }
        if (believed) {
            held.put(quantity.ordinal(), time, value);
        }
    }

    private void endRow(double time) {
        if (layout.timeColumn() < 0 || held.fresh == 0) {
            return;
        }
        if (held.isFresh(LogQuantity.VEHICLE_SPEED)) {
            distance.add(time, held.value[LogQuantity.VEHICLE_SPEED.ordinal()]);
        }
        if (held.isFresh(LogQuantity.GPS_SPEED)) {
            gpsDistance.add(time, held.value[LogQuantity.GPS_SPEED.ordinal()]);
        }
        if (held.isFresh(LogQuantity.FUEL_RATE)) {
            fuelFromRate.add(time, held.value[LogQuantity.FUEL_RATE.ordinal()]);
        }
        if (held.isFresh(LogQuantity.MASS_AIR_FLOW)) {
            double flow = Math.max(0, held.value[LogQuantity.MASS_AIR_FLOW.ordinal()]);
            if (litresPerHourPerGram.isPresent()) {
                fuelFromFlow.add(time, flow * litresPerHourPerGram.getAsDouble());
            }
            double rate = held.get(LogQuantity.FUEL_RATE, time);
            if (options.fuel() != null && rate > 0) {
                airFuelRatios.add(flow * 3600 / (rate * options.fuel().gramsPerLitre()));
            }
        }
        throttleRamps.at(time, held);
        pedalRamps.at(time, held);
        speedRamps.at(time, held);
        steadyStates.at(time, held);
    }

    private void bad(long line, String why) {
        badLines++;
        if (badNamed.size() < BAD_LINES_NAMED) {
            badNamed.add("line " + line + " (" + why + ")");
        }
    }

    private LogReading reading() {
        List<String> against = plausibility.reasonsAgainst();
        List<String> problems = new ArrayList<>(against);
        boolean plausible = against.isEmpty();
        boolean anything = tracks.stream().anyMatch(track -> track.quantity.read() && track.n > 0);
        if (!anything) {
            plausible = false;
            problems.add("No column was recognised as a quantity of the engine. Say by hand what the columns are.");
        }
        layoutProblems(problems);
        if (plausible) {
            problems.addAll(plausibility.remarks());
        }
        boolean timed = layout.timeColumn() >= 0;
        List<State> states = plausible && timed ? steadyStates.states() : List.of();
        List<Ramp> ramps = plausible && timed ? ramps() : List.of();
        if (plausible && timed) {
            problems.addAll(steadyStates.wants());
        }
        OptionalDouble kilometres = plausible ? kilometres(problems) : OptionalDouble.empty();
        OptionalDouble litres = plausible ? litres(problems) : OptionalDouble.empty();
        OptionalDouble per100 = kilometres.isPresent() && litres.isPresent() && kilometres.getAsDouble() >= 0.5
                ? OptionalDouble.of(litres.getAsDouble() / kilometres.getAsDouble() * 100)
                : OptionalDouble.empty();
        if (plausible) {
            displacementProblem(problems, states);
        }
        List<Column> columns = columns(problems);
        return new LogReading(
                rows,
                badLines,
                plausible,
                List.copyOf(problems),
                columns,
                Double.isNaN(lastTime) || !timed ? 0 : lastTime,
                states,
                ramps,
                kilometres,
                litres,
                per100,
                plausible && airFuelRatios.seen() >= 10
                        ? OptionalDouble.of(airFuelRatios.median())
                        : OptionalDouble.empty(),
                preview());
    }

    private void layoutProblems(List<String> problems) {
        if (layout.timeColumn() < 0) {
            problems.add(
                    "No time column was found: steady states, distance and fuel need one. Say by hand which it is.");
        }
        if (layout.headerLine() == 0) {
            problems.add("No header line was found: say by hand what the columns are.");
        }
        if (layout.timeUnitGuessed()) {
            problems.add("The time column names no unit; its steps mean milliseconds or less.");
        }
        if (badLines > 0) {
            problems.add("%d %s could not be read: %s%s."
                    .formatted(
                            badLines,
                            badLines == 1 ? "line" : "lines",
                            String.join(", ", badNamed),
                            badLines > badNamed.size() ? " and more" : ""));
        }
        if (repeated > 0) {
            problems.add(repeated + (repeated == 1 ? " repeated line is" : " repeated lines are") + " counted once.");
        }
        if (backwards > 0) {
            problems.add("The time falls back " + backwards + (backwards == 1 ? " time" : " times")
                    + ": what comes after is read as a new piece.");
        }
        if (cutOff) {
            problems.add("Only the first " + MOST_ROWS + " rows are read.");
        }
        if (namesLeftOut > 0) {
            problems.add("More than " + Fields.MOST + " names: " + namesLeftOut + " values are left out.");
        }
        List<String> remarks = new ArrayList<>();
        for (Track track : tracks) {
            if (track.quantity.read() && track.used) {
                if (track.n == 0) {
                    remarks.add("\"" + shown(track.header) + "\" has no values.");
                } else if (track.unitAssumed && track.quantity.unit() != Unit.LAMBDA) {
                    remarks.add("\"" + shown(track.header) + "\" names no unit that fits: "
                            + track.quantity.unit().symbol() + " is assumed.");
                } else if (track.unit == Unit.AFR) {
                    remarks.add("\"" + shown(track.header) + "\" is turned into lambda with "
                            + (options.fuel() == null ? Fuel.PETROL : options.fuel()).airFuelRatio() + ".");
                }
            }
            if (track.quantity.read() && !track.used) {
                remarks.add("\"" + shown(track.header) + "\" is " + track.quantity.words()
                        + " a second time and is not read.");
            }
        }
        problems.addAll(remarks.subList(0, Math.min(COLUMNS_REMARKED, remarks.size())));
        if (remarks.size() > COLUMNS_REMARKED) {
            problems.add((remarks.size() - COLUMNS_REMARKED) + " more remarks of this kind on columns.");
        }
    }

    private static String shown(String header) {
        return header.length() <= 60 ? header : header.substring(0, 60) + "...";
    }

    private OptionalDouble kilometres(List<String> problems) {
        boolean byRoad = distance.any();
        Trapezoid driven = byRoad ? distance : gpsDistance;
        if (!driven.any()) {
            return OptionalDouble.empty();
        }
        if (!byRoad) {
            problems.add("No vehicle speed: the distance is from GPS speed.");
        }
        gapProblems(problems, driven, "distance", "km");
        return OptionalDouble.of(driven.total());
    }

    private OptionalDouble litres(List<String> problems) {
        if (fuelFromRate.any()) {
            gapProblems(problems, fuelFromRate, "fuel", "L");
            return OptionalDouble.of(fuelFromRate.total());
        }
        boolean flow = tracks.stream()
                .anyMatch(track -> track.quantity == LogQuantity.MASS_AIR_FLOW && track.used && track.n > 1);
        if (!flow || layout.timeColumn() < 0) {
            return OptionalDouble.empty();
        }
        if (options.fuel() == null) {
            problems.add(
                    "No fuel rate column: say which fuel it burns, then fuel is estimated from the mass air flow.");
            return OptionalDouble.empty();
        }
        if (options.fuel() == Fuel.DIESEL) {
            problems.add("No fuel rate column: a diesel runs with more air than it burns, so its fuel cannot be"
                    + " told from the mass air flow.");
            return OptionalDouble.empty();
        }
        problems.add(String.format(
                Locale.ROOT,
                "Fuel is estimated from the mass air flow at an air-fuel ratio of %.1f and %.0f g/L (%s): too high"
                        + " where fuel is cut on overrun, too low where the mixture is rich.",
                options.fuel().airFuelRatio(),
                options.fuel().gramsPerLitre(),
                options.fuel().words()));
        gapProblems(problems, fuelFromFlow, "fuel", "L");
        return fuelFromFlow.any() ? OptionalDouble.of(fuelFromFlow.total()) : OptionalDouble.empty();
    }

    private static void gapProblems(List<String> problems, Trapezoid sum, String what, String unit) {
        if (sum.assumedGaps > 0) {
            problems.add(String.format(
                    Locale.ROOT,
                    "%.2f of %.2f %s of the %s are assumed: a straight line over %d %s of %.0f to %.0f s.",
                    sum.assumed(),
                    sum.total(),
                    unit,
                    what,
                    sum.assumedGaps,
                    sum.assumedGaps == 1 ? "gap" : "gaps",
                    Trapezoid.MEASURED_GAP,
                    Trapezoid.ASSUMED_GAP));
        }
        if (sum.openGaps > 0) {
            problems.add(String.format(
                    Locale.ROOT,
                    "The %s leaves out %d %s over %.0f s, the longest of %.0f s.",
                    what,
                    sum.openGaps,
                    sum.openGaps == 1 ? "gap" : "gaps",
                    Trapezoid.ASSUMED_GAP,
                    sum.longestOpen));
        }
    }

    /**
     * Absolute load by SAE J1979, 120 x flow / (rpm x 1.184 g/L x litres): far outside of what any engine breathes, flow
     * and displacement do not belong together.
     */
    private void displacementProblem(List<String> problems, List<State> states) {
        if (options.displacementL().isEmpty()) {
            return;
        }
        for (State state : states) {
            var rpm = state.reading(LogQuantity.ENGINE_SPEED);
            var flow = state.reading(LogQuantity.MASS_AIR_FLOW);
            if (rpm.isEmpty() || flow.isEmpty() || rpm.get().median() < 450) {
                continue;
            }
            double load = 100
                    * 120
                    * flow.get().median()
                    / (rpm.get().median() * 1.184 * options.displacementL().getAsDouble());
            if (load < 3 || load > 300) {
                problems.add(String.format(
                        Locale.ROOT,
                        "Absolute load would be %.0f %% in the state from %.0f s: displacement, or the unit of the"
                                + " mass air flow, is wrong, or the sensor is.",
                        load,
                        state.from()));
                return;
            }
        }
    }

    private List<Ramp> ramps() {
        List<Ramp> ramps = new ArrayList<>(throttleRamps.found());
        ramps.addAll(pedalRamps.found());
        ramps.addAll(speedRamps.found());
        return List.copyOf(ramps);
    }

    private List<Column> columns(List<String> problems) {
        boolean works = false;
        for (Track track : tracks) {
            works |= track.quantity == LogQuantity.ENGINE_SPEED && track.used && track.highest - track.lowest > 200
                    || track.quantity == LogQuantity.VEHICLE_SPEED && track.used && track.highest - track.lowest > 10;
        }
        List<Column> columns = new ArrayList<>();
        for (Track track : tracks) {
            if (track.quantity == LogQuantity.TIME && track.used) {
                track.n = rows;
            }
            boolean constant = track.quantity.read() && track.n >= 20 && track.lowest == track.highest;
            boolean stuck = constant && (works && track.quantity.lively() || atTheEnd(track));
            if (stuck && track.used) {
                problems.add("\"" + shown(track.header) + "\" stands at " + Plausibility.number(track.lowest) + " "
                        + track.quantity.unit().symbol() + " throughout: stuck, or not supported by the car.");
            }
            columns.add(new Column(
                    track.header,
                    track.quantity,
                    track.unit,
                    Math.round(track.confidence * 100) / 100.0,
                    track.used,
                    stuck,
                    track.n));
        }
        return List.copyOf(columns);
    }

    /** A byte of 00h or FFh throughout: the sensor is open, shorted, or not there. */
    private static boolean atTheEnd(Track track) {
        double first = track.quantity.firstByte(track.lowest);
        boolean temperature = track.quantity.unit() == Unit.CELSIUS;
        return first >= 255 || temperature && first <= 0;
    }

    private List<Series> preview() {
        List<Series> series = new ArrayList<>();
        for (Track track : tracks) {
            if (track.used && track.quantity.read() && !track.preview.isEmpty()) {
                series.add(track.preview.series(track.quantity));
            }
        }
        return List.copyOf(series);
    }

    /** Tells the progress about once a megabyte. */
    private static final class Counted extends FilterInputStream {
        private final LongConsumer progress;
        private long bytes;
        private long told;

        Counted(InputStream in, LongConsumer progress) {
            super(in);
            this.progress = progress;
        }

        @Override
        public int read() throws IOException {
            int one = super.read();
            count(one < 0 ? -1 : 1);
            return one;
        }

        @Override
        public int read(byte[] into, int from, int length) throws IOException {
            int got = super.read(into, from, length);
            count(got);
            return got;
        }

        private void count(int got) {
            if (got > 0) {
                bytes += got;
                if (bytes - told >= PROGRESS_STEP) {
                    told = bytes;
                    progress.accept(bytes);
                }
            }
        }

        void finish() {
            progress.accept(bytes);
        }

        @Override
        public void close() {
            // The stream belongs to the caller; the sequence would close it at its end.
        }
    }
}
