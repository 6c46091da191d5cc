/** What a pass is called on its own sheet: that of a strip is a patch, and a lamp test has a long half beside its patches. */
import { Job } from '../generated/constants';
import { ascii } from '../protocol/texts';
import { putOf } from '../rows/figures';
import { put, putNumber } from '../rows/row';

/** Pass `pass`, from 0, of `count`, which is not told where it is 0: "pass 2/3", "patch 2", "long half". */
export function putPass(job: Job, pass: i32, count: i32): void {
  if (isLongHalf(job, pass)) {
    put(ascii('long half'));
    return;
  }
  const beside = i32(job == Job.LampTest);
  put(beside != 0 || job == Job.Strip ? ascii('patch ') : ascii('pass '));
  if (count == 0) putNumber(pass + 1 - beside);
  else putOf(pass + 1 - beside, count - beside);
}

export function isLongHalf(job: Job, pass: i32): bool {
  return job == Job.LampTest && pass == 0;
}
