package idlewright.bench.screens;

import idlewright.people.ByKey;
import idlewright.reference.sweep.Sweep;
import idlewright.reference.sweep.SweepOptions;
import idlewright.reference.sweep.SweepReading;
import jakarta.servlet.http.HttpServletRequest;
import java.io.IOException;
import java.util.List;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RestController;

/** Judges a slow ramp of a sensor. */
@RestController
@ByKey
class SweepsApi {

    record Judged(String verdict, List<Feature> features, String reason) {}

    record Feature(String kind, double from, double to) {}

    @PostMapping("/api/sweeps")
    Judged judge(HttpServletRequest request) throws IOException {
        Sent sent = Sent.by(request);
        double[] x = sent.numbers("x");
        double[] y = sent.numbers("y");
        String unit = sent.optionalText("xUnit");
        String signalUnit = sent.optionalText("yUnit");
        sent.done();
        SweepReading reading = Sent.refusingNonsense(
                () -> Sweep.judge(x, y, SweepOptions.by(unit).withRail(signalUnit, y)));
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
