package idlewright.warranty;

import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Times;
import idlewright.frame.Together;
import idlewright.frame.Tuple;
import idlewright.intake.VehicleView;
import idlewright.intake.Vehicles;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.warranty.rules.Coverage;
import idlewright.warranty.rules.Coverage.Odometer;
import idlewright.warranty.rules.Emissions;
import java.math.BigDecimal;
import java.sql.Date;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** What the maker owes by emissions law; not quoted before somebody said when the car went into use and what it shows. */
@Component
@Transactional
public class EmissionTerms {

    /** When a car first went into use, and what its odometer showed when that was asked. */
    public record Began(LocalDate began, BigDecimal distance, String unit, String source, Instant at, String who) {}

    /** One term and whether it still holds. */
    public record Quoted(Emissions.Term term, Coverage coverage) {}

    /** The latest answer about a vehicle; read by {@link #began(Tuple)}. */
    static final String OF_VEHICLE = "select * from service_start where vehicle_id = :vehicle order by id desc limit 1";

    private final Together together;
    private final Vehicles vehicles;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;
    private final Times times;

    EmissionTerms(
            Together together,
            Vehicles vehicles,
            People people,
            Journal journal,
            JdbcClient jdbc,
            Clock clock,
            Times times) {
        this.together = together;
        this.vehicles = vehicles;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
        this.times = times;
    }

    /** Keeps what was asked; a later answer takes the place of an earlier, and both stay. */
    public void keep(long vehicleId, LocalDate began, BigDecimal distance, String source) {
        VehicleView vehicle = vehicles.get(vehicleId);
        var problems = new LinkedHashMap<String, String>();
        if (vehicle.modelYear() == null) {
            problems.put("", "The model year decides which terms hold. Put it into the vehicle’s details first.");
        }
        if (began.isAfter(times.today()) || began.getYear() < 1960) {
            problems.put("began", "Enter the day the vehicle first went into use, not in the future.");
        }
        if (distance.signum() < 0 || distance.compareTo(new BigDecimal("9999999")) > 0) {
            problems.put("distance", "Enter what the odometer shows, between 0 and 9,999,999.");
        }
        if (source.isBlank() || source.length() > 400) {
            problems.put("source", "Say how that day is known, like: warranty booklet, dealer’s record.");
        }
        Refused.ifAny(problems);
        jdbc.sql("""
                insert into service_start (vehicle_id, began, distance, unit, source, at, who) values (?, ?, ?, ?, ?, ?, ?)""")
                .params(
                        vehicleId,
                        Date.valueOf(began),
                        distance,
                        vehicle.distanceUnit(),
                        source.strip(),
                        Timestamp.from(clock.instant()),
                        people.me().name())
                .update();
        journal.note(
                "in-service date",
                null,
                "A vehicle first went into use on %s.".formatted(times.day(began)),
                Map.of("vehicle", vehicleId));
    }

    @OnlyReads
    public Optional<Began> began(long vehicleId) {
        return together.read(Map.of("vehicle", vehicleId), OF_VEHICLE).get(0).stream()
                .map(EmissionTerms::began)
                .findFirst();
    }

    static Began began(Tuple r) {
        return new Began(
                r.getDate("began"),
                r.getBigDecimal("distance"),
                r.getString("unit"),
                r.getString("source"),
                r.getInstant("at"),
                r.getString("who"));
    }

    /** The terms as they stand on a day at an odometer; none before the two questions are answered. */
    @OnlyReads
    public List<Quoted> quoted(VehicleView vehicle, LocalDate day, Optional<Odometer> at) {
        return quoted(began(vehicle.id()), vehicle, day, at);
    }

    static List<Quoted> quoted(Optional<Began> began, VehicleView vehicle, LocalDate day, Optional<Odometer> at) {
        if (began.isEmpty() || vehicle.modelYear() == null) {
            return List.of();
        }
        Began known = began.get();
        var asked = new Odometer(known.distance(), known.unit());
        return Emissions.of(vehicle.modelYear()).stream()
                .map(term -> new Quoted(
                        term,
                        Coverage.of(
                                term.promise(),
                                known.began(),
                                new Odometer(BigDecimal.ZERO, "mi"),
                                day,
                                at.orElse(asked))))
                .toList();
    }
}
