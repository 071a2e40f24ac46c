package idlewright.bench.screens;

import idlewright.people.ByKey;
import idlewright.reference.sweep.Sweep;
import idlewright.reference.sweep.SweepOptions;
import idlewright.reference.sweep.SweepOptions.Axis;
import idlewright.reference.sweep.SweepReading;
import jakarta.servlet.http.HttpServletRequest;
import java.io.IOException;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Set;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RestController;

/** Judges a slow ramp of a sensor. */
@RestController
@ByKey
class SweepsApi {

    private static final Set<String> TIMES = Set.of("s", "sec", "ms", "min", "h", "seconds", "second");

    record Judged(String verdict, List<Feature> features, String reason) {}

    record Feature(String kind, double from, double to) {}

    @PostMapping("/api/sweeps")
    Judged judge(HttpServletRequest request) throws IOException {
        Sent sent = Sent.by(request);
        double[] x = sent.numbers("x");
        double[] y = sent.numbers("y");
        String unit = sent.optionalText("xUnit").strip();
        sent.optionalText("yUnit");
        sent.done();
        Axis axis = TIMES.contains(unit) ? Axis.TIME : Axis.DRIVER;
        SweepReading reading =
                Sent.refusingNonsense(() -> Sweep.judge(x, y, new SweepOptions(axis, unit, 0, OptionalDouble.empty())));
        return new Judged(
                switch (reading.outcome()) {
                    case SMOOTH -> "smooth";
                    case FAULTY -> "faulty";
                    case NOT_JUDGED -> "not judged";
                },
                reading.features().stream()
                        .map(feature -> new Feature(feature.kind().words(), feature.from(), feature.to()))
                        .toList(),
                reading.words());
    }
}
