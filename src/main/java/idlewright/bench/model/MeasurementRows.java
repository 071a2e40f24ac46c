package idlewright.bench.model;

import java.util.Optional;
import org.springframework.data.repository.Repository;

public interface MeasurementRows extends Repository<Measurement, Long> {

    Measurement saveAndFlush(Measurement measurement);

    Optional<Measurement> findById(Long id);
}
