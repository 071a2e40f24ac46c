package idlewright.bench.screens;

import com.fasterxml.jackson.annotation.JsonInclude;
import idlewright.people.ByKey;
import idlewright.reference.air.Airflow;
import idlewright.reference.air.Atmosphere;
import idlewright.reference.air.Engine;
import jakarta.servlet.http.HttpServletRequest;
import java.io.IOException;
import org.jspecify.annotations.Nullable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RestController;

/** What air an engine of this size can draw, and how the measured flow compares. */
@RestController
@ByKey
class AirApi {

    /** Load and filling stay null without a measured flow. */
    @JsonInclude
    record Air(
            double airDensityGpl,
            double idealFlowGps,
            @Nullable Double absoluteLoadPct,
            @Nullable Double fillingPct) {}

    @PostMapping("/api/air")
    Air air(HttpServletRequest request) throws IOException {
        Sent sent = Sent.by(request);
        double displacementL = sent.number("displacementL");
        double rpm = sent.number("rpm");
        Double flow = sent.optionalNumber("massFlowGps");
        double intakeAirC = sent.number("intakeAirC");
        double pressureKpa = sent.number("pressureKpa");
        sent.done();
        return Sent.refusingNonsense(() -> {
            // The number of cylinders cancels out of everything asked here.
            Engine engine = Engine.fourStroke(displacementL, 1);
            Atmosphere air = Atmosphere.dry(intakeAirC, pressureKpa);
            return new Air(
                    air.densityGPerL(),
                    Airflow.idealGps(engine, rpm, air.densityGPerL()),
                    flow == null ? null : (Double) Airflow.absoluteLoadPercent(engine, flow, rpm),
                    flow == null ? null : (Double) Airflow.fillingOfAmbientPercent(engine, flow, rpm, air));
        });
    }
}
