/** What a pass is called on its own sheet: that of a strip is a patch, and a lamp test has one long light beside its patches. */
import { Job } from '../generated/constants';
import { ascii } from '../protocol/texts';
import { putOf } from '../rows/figures';
import { put, putNumber } from '../rows/row';

/** Pass `pass`, from 0, of `count`, which is not told where it is 0: "pass 2/3", "patch 2", "long one". */
export function putPass(job: Job, pass: i32, count: i32): void {
  const beside = i32(job == Job.LampTest);
  const number = pass + 1 - beside;
  if (number == 0) {
    put(ascii('long one'));
    return;
  }
  put(beside != 0 || job == Job.Strip ? ascii('patch ') : ascii('pass '));
  if (count == 0) putNumber(number);
  else putOf(number, count - beside);
}
