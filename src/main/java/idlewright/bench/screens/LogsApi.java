package idlewright.bench.screens;

import com.fasterxml.jackson.annotation.JsonInclude;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.people.ByKey;
import idlewright.reference.obd.log.Fuel;
import idlewright.reference.obd.log.LogFile;
import idlewright.reference.obd.log.LogOptions;
import idlewright.reference.obd.log.LogReading;
import idlewright.reference.units.Unit;
import java.io.IOException;
import java.io.InputStream;
import java.math.BigDecimal;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.multipart.MultipartFile;
import org.springframework.web.server.ResponseStatusException;

/** Reads a scan-tool log. Streamed: the file lies on disk while it is read once. */
@RestController
@ByKey
class LogsApi {

    private static final long MOST_BYTES = 150L << 20;

    /** What cannot be derived is left out. */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    record Log(
            long rows,
            boolean plausible,
            List<String> problems,
            List<Column> columns,
            List<State> states,
            @Nullable Double distanceKm,
            @Nullable Double fuelL,
            @Nullable Double litresPer100Km) {}

    @JsonInclude
    record Column(String header, String quantity, @Nullable String unit, double confidence) {}

    record State(String kind, double from, double to, List<Reading> readings) {}

    record Reading(String quantity, String unit, double median, double spread, long n) {}

    @PostMapping("/api/logs")
    Log read(
            @RequestParam @Nullable MultipartFile file,
            @RequestParam @Nullable String displacementL,
            @RequestParam @Nullable String fuel)
            throws IOException {
        if (file == null) {
            throw Refused.at("file", "Send the log as the part “file” of a multipart form.");
        }
        if (file.getSize() > MOST_BYTES) {
            throw new ResponseStatusException(HttpStatus.CONTENT_TOO_LARGE, "A log may have 150 MB at most.");
        }
        LogOptions options = options(displacementL, fuel);
        try (InputStream bytes = file.getInputStream()) {
            return log(LogFile.read(bytes, options));
        }
    }

    private static LogOptions options(@Nullable String displacementL, @Nullable String fuel) {
        var typing = new Typing();
        LogOptions options = LogOptions.plain();
        BigDecimal litres = typing.number("displacementL", displacementL);
        if (litres != null) {
            try {
                options = options.withDisplacement(litres.doubleValue());
            } catch (IllegalArgumentException e) {
                typing.wrong("displacementL", e.getMessage());
            }
        }
        if (fuel != null && !fuel.isBlank()) {
            try {
                options = options.burning(fuel(fuel));
            } catch (Refused e) {
                typing.wrong("fuel", String.valueOf(e.getMessage()));
            }
        }
        typing.done();
        return options;
    }

    private static Fuel fuel(String named) {
        return switch (named.strip().toLowerCase(Locale.ROOT)) {
            case "petrol", "gasoline" -> Fuel.PETROL;
            case "e10", "petrol e10" -> Fuel.E10;
            case "e85" -> Fuel.E85;
            case "diesel" -> Fuel.DIESEL;
            default -> throw Refused.because("fuel is petrol, e10, e85 or diesel, or left out.");
        };
    }

    private static Log log(LogReading reading) {
        return new Log(
                reading.rows(),
                reading.plausible(),
                reading.problems(),
                reading.columns().stream()
                        .map(column -> new Column(
                                column.header(), column.quantity().words(), symbol(column.unit()), column.confidence()))
                        .toList(),
                reading.states().stream()
                        .map(state -> new State(
                                state.kind().words(),
                                state.from(),
                                state.to(),
                                state.readings().stream()
                                        .map(one -> new Reading(
                                                one.quantity().words(),
                                                one.unit().symbol(),
                                                one.median(),
                                                one.spread(),
                                                one.n()))
                                        .toList()))
                        .toList(),
                derived(reading.distanceKm()),
                derived(reading.fuelL()),
                derived(reading.litresPer100Km()));
    }

    private static @Nullable String symbol(@Nullable Unit unit) {
        return unit == null ? null : unit.symbol();
    }

    private static @Nullable Double derived(OptionalDouble value) {
        return value.isEmpty() ? null : (Double) value.getAsDouble();
    }
}
