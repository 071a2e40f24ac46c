package idlewright.intake.model;

import java.util.Optional;
import org.springframework.data.repository.Repository;

public interface SymptomRows extends Repository<Symptom, Symptom.Id> {

    Symptom save(Symptom symptom);

    Symptom saveAndFlush(Symptom symptom);

    Optional<Symptom> findById(Symptom.Id id);
}
