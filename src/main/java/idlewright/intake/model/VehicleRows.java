package idlewright.intake.model;

import java.util.Optional;
import org.springframework.data.repository.Repository;

public interface VehicleRows extends Repository<Vehicle, Long> {

    Vehicle save(Vehicle vehicle);

    Vehicle saveAndFlush(Vehicle vehicle);

    Optional<Vehicle> findById(Long id);
}
